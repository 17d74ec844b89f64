from __future__ import annotations

import pytest

from desk.intake.columns.value_kinds import (
    contradicted,
    fits,
    is_person_name,
    looks_like_a_note,
    looks_like_an_address_part,
    looks_like_money,
)

CODES, TOWNS = ["97701", "55804", "04530"], ["Bend", "Duluth", "Saint-Jean-sur-Mer"]
STREETS, MAILS = ["12 Quire Street", "Hauptstraße 5", "7 rue des Lilas"], ["a@b.example", "c.d@e.example"]
DATES, AMOUNTS = ["2026-11-25", "03/04/2026"], ["12.50", "$3.00", "1.234,50 €"]
COUNTRIES, PHONES = ["US", "Germany", "Côte d'Ivoire"], ["+1 555 010 9999", "(0221) 12345"]


@pytest.mark.parametrize(
    ("ours", "values"),
    [
        ("city", TOWNS), ("city", ["St. John's", "Paris 15e", "Bath"]), ("postal_code", CODES),
        ("postal_code", ["SY8 1AA", "B3J 1A1", "604-8571"]), ("postal_code", ["'05401", "2134.0"]), ("address1", STREETS), ("email", MAILS),
        ("placed", DATES), ("unit_price", AMOUNTS), ("quantity", ["1", "2"]), ("country", COUNTRIES),
        ("phone", PHONES), ("region", ["OR", "Île-de-France", "75"]), ("recipient", ["Ada Finch", "山田太郎"]),
        ("item", ["1984", "Notebook"]), ("currency", ["USD", "€"]), ("sku", CODES), ("buyer_note", ["Please leave it at the door", "Happy birthday"]),
        ("city", []), ("city", ["", ""]),
    ],
)  # fmt: skip
def test_values_fit_their_field(ours: str, values: list[str]) -> None:
    assert fits(ours, values) is True


@pytest.mark.parametrize(
    ("ours", "values"),
    [
        ("city", CODES), ("city", STREETS), ("city", DATES), ("city", MAILS), ("postal_code", TOWNS),
        ("postal_code", STREETS), ("email", TOWNS), ("placed", TOWNS), ("unit_price", TOWNS), ("unit_price", DATES),
        ("quantity", TOWNS), ("country", CODES), ("phone", MAILS), ("phone", TOWNS), ("region", STREETS),
        ("recipient", CODES), ("recipient", MAILS), ("address1", CODES), ("item", DATES), ("currency", TOWNS),
        ("shipping_paid", STREETS), ("discount", MAILS), ("company", MAILS), ("buyer_note", DATES), ("buyer_note", ["VINET", "TOMSP"]), ("address2", ["1.50", "3.00"]),
    ],
)  # fmt: skip
def test_values_do_not_fit_another_field(ours: str, values: list[str]) -> None:
    assert fits(ours, values) is False


def test_most_values_decide_what_a_column_is_and_not_a_single_one() -> None:
    assert fits("city", [*TOWNS, "97701"])
    assert not fits("city", [*CODES, "Bend"])


@pytest.mark.parametrize(
    ("ours", "values", "expected"),
    [
        ("city", CODES, True),
        ("city", [*CODES, "Bend"], False),
        ("city", ["97701", "97701"], False),  # one order of two lines is not enough
        ("recipient", ["1001", "1002"], True),
        ("country", ["100", "200-3"], True),
        ("city", ["?", "-"], False),  # empty values are no contradiction
        ("city", ["1", "2"], False),
        ("item", ["1984", "300"], False),
        ("city", [], False),
        ("region", ["OR", "ME", "New"], False),
        ("region", ["Oregon", "Maine", "New"], False),
        ("region", ["OR", "New"], True),
        ("region", ["ready", "packed", "new"], True),
        ("address1", ["1 Oak St", "2 Elm St"], False),
        ("address1", ["12", "5 b", "12-14", "7 bis"], True),
        ("house_number", ["12", "7 bis"], False),
        ("house_number", ["12 Oak Street"], True),
    ],
)
def test_values_that_contradict_their_header_are_recognized(ours: str, values: list[str], *, expected: bool) -> None:
    assert contradicted(ours, values) is expected


@pytest.mark.parametrize(
    ("values", "is_note"),
    [
        (["Please leave it here"], True),
        (["Please leave it"], False),  # three words
        (["Please leave it here", "Ada"], True),  # half of them
        (["Please leave it here", "Ada", "Ben"], False),
        ([], False),
    ],
)
def test_half_of_the_values_are_sentences_of_four_words_in_a_note(values: list[str], is_note: bool) -> None:
    assert looks_like_a_note(values) is is_note


@pytest.mark.parametrize(
    ("values", "is_street"),
    [(["12 Elm Street", "Bend"], True), (["12 Elm Street", "Bend", "Duluth"], False), (["Bend"], False), ([], False)],
)
def test_half_of_the_values_are_streets_in_an_address(values: list[str], is_street: bool) -> None:
    assert looks_like_an_address_part(values) is is_street


@pytest.mark.parametrize(
    ("values", "is_money"), [(["12.50", "x"], True), (["12.50", "x", "y"], False), (["12"], False), ([], False)]
)
def test_half_of_the_values_are_amounts_in_money(values: list[str], is_money: bool) -> None:
    assert looks_like_money(values) is is_money


@pytest.mark.parametrize(
    ("ours", "longest", "too_long"),
    [("order", "1" * 40, "1" * 41), ("status", "a" * 40, "a" * 41)],
)
def test_numbers_and_states_have_at_most_forty_characters(ours: str, longest: str, too_long: str) -> None:
    assert fits(ours, [longest])
    assert not fits(ours, [too_long])


@pytest.mark.parametrize(
    ("values", "is_doubted"), [(["97701"], False), (["97701", "97701"], False), (["97701", "55804"], True)]
)
def test_two_different_values_are_needed_to_doubt_a_header(values: list[str], is_doubted: bool) -> None:
    assert contradicted("city", values) is is_doubted


@pytest.mark.parametrize(
    ("text", "is_name"), [("Ada", True), ("a b c d e f", True), ("a b c d e f g", False), ("", False), ("Ada 2", False)]
)
def test_a_name_has_one_to_six_words_without_digits(text: str, is_name: bool) -> None:
    assert is_person_name(text) is is_name


@pytest.mark.parametrize(
    ("ours", "fitting", "not_fitting"),
    [
        ("region", "750", "7500"),
        ("phone", "55501", "5550"),
        ("buyer_note", "Thank you", "Thanks"),
    ],
)
def test_lengths_of_values_at_their_limits(ours: str, fitting: str, not_fitting: str) -> None:
    assert fits(ours, [fitting])
    assert not fits(ours, [not_fitting])


@pytest.mark.parametrize(
    ("text", "is_choice"),
    [
        ("Standard", True),
        ("ada@mail.example", False),
        ("2026-11-20", False),
        ("4.50", False),
        ("12 Ink Lane, Bend, OR 97701", False),
    ],
)
def test_a_way_of_shipping_is_words_and_no_address(text: str, is_choice: bool) -> None:
    assert fits("shipping_choice", [text]) is is_choice
