"""Limits in matching an order list's headers, with a case on either side of each. Common practice, no source."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

import pytest

from desk.intake.columns.samples import Samples
from desk.intake.order_headers.match import match_order_headers
from desk.intake.order_headers.rules import candidates
from desk.intake.order_headers.settle_headers import likely_candidates
from desk.intake.order_headers.unread_columns import ignored_columns
from desk.intake.order_headers.words import _nearest, header_meaning, words_of
from desk.tables.faults_found import FaultsFound


def matched(
    header: str, rows: Sequence[str], mapped: Mapping[str, str] | None = None
) -> tuple[dict[str, int], FaultsFound]:
    """Return where each field is in a table of these texts, and the faults."""
    names, faults = header.split(","), FaultsFound("a.csv")
    samples = Samples([row.split(",") for row in rows], len(names))
    return dict(match_order_headers(names, samples, mapped or {}, (), faults, 1).columns.places), faults


def places(header: str, *rows: str) -> dict[str, int]:
    return matched(header, rows)[0]


def test_a_number_column_right_of_the_street_is_the_house_number() -> None:
    assert places("order,street,number,city", "A1,Elm Street,12,Bend")["house_number"] == 2
    assert "house_number" not in places("order,street,city,number", "A1,Elm Street,Bend,12")
    assert "house_number" not in places("order,number,street,city", "A1,12,Elm Street,Bend")


PRICED = "order,item,quantity,price"


@pytest.mark.parametrize(
    ("rows", "is_unit_price"),
    [
        (["1,Card,1,4.00", "2,Card,1,4.00"], True),  # one of each
        (["1,Card,1,4.00", "2,Card,2,4.00"], True),
        (["1,Card,1,4.00", "2,Card,2,8.00"], False),  # the total of the line
        (["1,Card,2,8.00", "2,Pen,3,9.00"], False),  # no item in two quantities
        (["1,Card,1,4.00", "2,Card,2,4.00", "3,Pen,1,3.00", "4,Pen,2,6.00"], False),
        (["1,Card,1,4.00", "2,Card,2,4.00", "3,Pen,2,3.00", "4,Pen,2,6.00"], True),  # pens say nothing
    ],
)
def test_a_price_that_is_equal_for_two_quantities_is_the_unit_price(rows: list[str], is_unit_price: bool) -> None:
    assert ("unit_price" in places(PRICED, *rows)) is is_unit_price


def test_two_price_columns_do_not_decide_the_unit_price() -> None:
    assert "unit_price" not in places("order,item,quantity,price,cost", "1,Card,1,4.00,4.00", "2,Card,1,5.00,3.00")


@pytest.mark.parametrize("header", ["first name,name", "ship first name,ship to name"])
@pytest.mark.parametrize(
    ("whole_names", "field"),
    [(1, "last_name"), (2, "recipient")],  # of two: more than half must contain the first name
)
def test_a_name_next_to_a_first_name_is_the_last_name_unless_most_cells_have_both(
    header: str, whole_names: int, field: str
) -> None:
    """Otherwise a label would say "Ada Ada Finch"."""
    rows = [f"{number},Ada,{'Ada Finch' if number < whole_names else 'Finch'}" for number in range(2)]
    found = places(f"order,{header}", *rows)
    assert found[field] == 2
    assert ("first_name" in found) is (field == "last_name")


@pytest.mark.parametrize(("second", "place"), [("A1", 1), ("A2", None)])
def test_a_mapped_header_that_occurs_twice_is_read_when_both_columns_are_equal(second: str, place: int | None) -> None:
    found, faults = matched("x,Ref,Ref", [f"1,A1,{second}"], {"order": "Ref"})
    assert found.get("order") == place
    assert bool(faults.faults) is (place is None)


@pytest.mark.parametrize(
    ("header", "fields"),
    [("Item name 1", ["item"]), ("Item name 2", []), ("Phone 1", ["phone"]), ("Phone 2", [])],
)
def test_a_second_item_or_phone_is_not_the_first(header: str, fields: list[str]) -> None:
    assert [one.field for one in candidates(header)] == fields


@pytest.mark.parametrize("number", [1, 2, 3])
def test_the_first_three_lines_of_an_address_are_known_by_their_number(number: int) -> None:
    assert candidates(f"Address line {number}")[0].field == f"address{number}"
    assert candidates("Address line 4") == ()


@pytest.mark.parametrize(
    ("word", "index"), [("one", 1), ("two", 2), ("three", 3), ("eins", 1), ("zwei", 2), ("2", 2), ("", 0)]
)
def test_numbers_in_words_are_read_in_headers(word: str, index: int) -> None:
    assert header_meaning(f"address line {word}").index == index


@pytest.mark.parametrize(
    ("word", "nearest"),
    [
        ("ordar", "order"),  # one wrong letter in five: 80 percent
        ("itom", ""),  # one in four: 75 percent
        ("itemm", "item"),  # words of four letters may be misspelled
        ("skuu", ""),  # words of three may not
    ],
)
def test_a_misspelling_of_one_letter_in_five_is_recognized(word: str, nearest: str) -> None:
    assert _nearest(word) == nearest


@pytest.mark.parametrize(("length", "is_whole"), [(60, True), (61, False)])
def test_sixty_characters_of_a_header_are_read(length: int, is_whole: bool) -> None:
    assert ("id" in words_of("order".ljust(length - 2) + "id")) is is_whole


@pytest.mark.parametrize(
    ("near", "far"), [("Ship to city", "City"), ("City", "Buyer city"), ("Buyer city", "Billing city")]
)
def test_the_recipients_city_comes_before_the_buyers_and_the_payer_s(near: str, far: str) -> None:
    assert [one.field for one in (*candidates(near), *candidates(far))] == ["city", "city"]
    assert candidates(near)[0].rank < candidates(far)[0].rank


def test_headers_for_apartments_mean_the_second_address_line() -> None:
    for header in ("Apartment", "Apartment number", "Apt no", "Address line apartment"):
        assert candidates(header)[0].field == "address2"


def test_the_address_of_the_buyer_is_used_only_without_a_shipping_address() -> None:
    head = "order,item,buyer name,buyer street,buyer city,buyer zip"
    row = "1,Card,Ada Finch,2 Folio St,Boston,02134"
    assert places(head, row).get("city") == 4
    assert places(f"{head},street", f"{row},1 Quire St").get("city") is None


def test_an_unreadable_number_does_not_disqualify_its_column() -> None:
    """It gets a message with its line instead."""
    assert places("order,item,qty", "1,Card,two")["quantity"] == 2


@pytest.mark.parametrize(
    ("word", "party"),
    [
        ("recip", "ship"),  # half of "recipient" or more
        ("reci", ""),  # also begins "recipe"; less than half
        ("purchas", ""),  # begins "purchase" and "purchaser", which mean different things
        ("person", ""),  # less than half of "personalization"
    ],
)
def test_a_truncated_word_is_read_if_it_fits_only_one_meaning(word: str, party: str) -> None:
    assert header_meaning(f"{word} city").party == party


@pytest.mark.parametrize(("word", "is_known"), [("track", False), ("gate", False), ("curre", True)])
def test_a_complete_word_is_not_read_as_the_start_of_another(word: str, is_known: bool) -> None:
    assert bool(header_meaning(word).unknown) is not is_known


@pytest.mark.parametrize("header", ["Client(e)", "Kunde/in", "Destinatario/a", "Empfänger(in)", "Acheteur(s)"])
def test_an_ending_for_gender_or_number_is_ignored(header: str) -> None:
    assert header_meaning(header).party in ("buyer", "ship")
    assert not header_meaning(header).unknown


@pytest.mark.parametrize(("header", "party"), [("Mail city", "ship"), ("Mail", ""), ("Mail name", "")])
def test_mail_means_the_destination_only_next_to_a_part_of_the_address(header: str, party: str) -> None:
    assert header_meaning(header).party == party


@pytest.mark.parametrize(
    ("header", "concept"), [("Order reference", "receipt"), ("Item reference", "code"), ("Reference", "reference")]
)
def test_a_reference_belongs_to_the_word_next_to_it(header: str, concept: str) -> None:
    assert concept in header_meaning(header).concepts


@pytest.mark.parametrize(
    ("cells", "field"),
    [
        (("paid", "open"), "status"),
        (("paid", "OR"), None),
        (("OR", "ME"), "region"),
        (("ME", "refunded"), None),
        (("New York", "New Mexico"), "region"),  # though "new" is a status
    ],
)
def test_a_state_column_is_a_status_if_all_cells_are_and_an_address_if_none_is(cells, field):
    found, _ = matched("Order,Recipient,State", [f"1001,Ada Finch,{cells[0]}", f"1002,Bo Reed,{cells[1]}"])
    assert [name for name, place in found.items() if place == 2] == ([field] if field else [])


@pytest.mark.parametrize(
    ("header", "cells", "is_order"),
    [
        ("Kit order", ("1001", "1002"), True),
        ("Kit order", ("10", "12"), False),  # perhaps a count
        ("Kit order", ("100.50", "120.00"), False),
        ("Kit", ("1001", "1002"), False),
        ("Kit order", ("1001", "1001"), False),  # two buyers with one number
    ],
)
def test_long_numbers_under_order_and_an_unknown_word_are_read_as_order_numbers(header, cells, is_order):
    found, _ = matched(f"{header},Recipient,Item", [f"{cells[0]},Ada Finch,Pen", f"{cells[1]},Bo Reed,Ink"])
    assert ("order" in found) is is_order


@pytest.mark.parametrize(("attn", "recipient"), [("Ship To Attn", None), ("Ship To Suite", 1), ("Sold on", 1)])
def test_a_buyer_is_not_the_recipient_next_to_a_person_to_deliver_to(attn, recipient):
    found, _ = matched(f"Order,Buyer,{attn},Item", ["1001,Ada Finch,Di Sand,Pen", "1002,Bo Reed,Ed Moss,Ink"])
    assert found.get("recipient") == recipient


@pytest.mark.parametrize(("cell", "is_read"), [("97701", True), ("12 Ink Lane; Bend; OR 97701", False)])
def test_a_whole_address_is_neither_postal_code_nor_recipient(cell: str, is_read: bool) -> None:
    found, _ = matched("Order,Post code,Item", [f"1001,{cell},Pen"])
    assert ("postal_code" in found) is is_read
    found, _ = matched("Order,Ship to,Item", [f"1001,{'Ada Finch' if is_read else cell},Pen"])
    assert ("recipient" in found) is is_read


@pytest.mark.parametrize(
    ("header", "is_split"),
    [("SHIPTO", True), ("ORDEREDON", True), ("SHIPPEDON", True), ("Carton", False), ("Formato", False)],
)
def test_a_joined_word_ends_with_a_filler_only_after_what_happens_or_where_it_goes(header: str, is_split: bool) -> None:
    assert (not header_meaning(header).unknown) is is_split


@pytest.mark.parametrize(("cells", "is_order"), [(("1001", "1002"), True), (("spring", "autumn"), False)])
def test_a_plain_number_without_digits_is_no_order_number(cells: tuple[str, str], is_order: bool) -> None:
    assert ("order" in places("number,recipient", f"{cells[0]},Ada Finch", f"{cells[1]},Bo Reed")) is is_order


@pytest.mark.parametrize(("header", "is_house"), [("number", True), ("quarter", False), ("item code", False)])
def test_only_a_number_right_of_the_street_is_the_house_number(header: str, is_house: bool) -> None:
    assert ("house_number" in places(f"order,street,{header},city", "A1,Elm Street,12,Bend")) is is_house


@pytest.mark.parametrize(
    ("header", "field"), [("Street 1", "address1"), ("Street 3", "address3"), ("Street 4", ""), ("Street", "address1")]
)
def test_a_fourth_line_of_a_street_is_not_the_first(header: str, field: str) -> None:
    assert [one.field for one in candidates(header)] == ([field] if field else [])


def test_a_column_called_just_first_and_one_called_name_are_both_names() -> None:
    found = places("order,first,name,item", "1001,Ada,Finch,Pen", "1002,Bo,Reed,Ink")
    assert (found["first_name"], found["last_name"]) == (1, 2)


def test_our_own_customs_names_are_likely_and_an_unknown_word_of_the_delivery_is_its_recipient() -> None:
    assert [(one.field, one.is_certain) for one in likely_candidates("itn")] == [("itn", False)]
    assert "recipient" in {one.field for one in likely_candidates("Ship to zorp")}
    assert likely_candidates("Zorp number") == ()


@pytest.mark.parametrize(
    ("header", "cell", "looks_like"),
    [
        ("Ship to", "Ada Finch", "name"),
        ("Ship to city", "Bend", "address"),
        ("?", "Please ring the upper bell twice", "note"),
        ("Zorp", "Please ring the upper bell twice", "note"),
        ("Shipping weight", "Please ring the upper bell twice", ""),
    ],
)
def test_a_column_that_is_not_read_looks_like_what_its_words_or_cells_say(header, cell, looks_like):
    (found,) = ignored_columns((header,), Samples([(cell,)], 1), [0], {})
    assert found.looks_like == looks_like


@pytest.mark.parametrize(
    ("header", "cells", "field"),
    [
        ("Item", ("Pen", "Ink"), "item"),
        ("Item#", ("Pen", "Ink"), "sku"),
        ("Order#", ("1001", "1002"), "order"),
        ("Quantity (#)", ("3", "2"), "quantity"),
        ("Tax #", ("20", "7"), None),
        ("Tax", ("20", "7"), "tax"),
        ("Tax %", ("20", "7"), None),
        ("Discount %", ("20", "7"), "discount"),
    ],
)
def test_our_own_name_with_a_number_or_percent_sign_is_something_else(header, cells, field):
    found = places(f"{header},Zorp", *(f"{cell},a" for cell in cells))
    assert [name for name, place in found.items() if place == 0] == ([field] if field else [])


@pytest.mark.parametrize(
    ("cells", "field"),
    [
        (("12", "5b"), "house_number"),
        (("12 Ink Lane", "5 Quire Street"), "address1"),
        (("12", "Ink Lane 5"), "address1"),
    ],
)
def test_a_street_and_number_is_only_the_number_where_all_cells_are(cells: tuple[str, str], field: str) -> None:
    found = places("order,N° de voie", f"1001,{cells[0]}", f"1002,{cells[1]}")
    assert [name for name, place in found.items() if place == 1] == [field]


@pytest.mark.parametrize(("recipient", "is_item"), [("Zorp", False), ("Recipient", True)])
def test_a_name_on_a_label_is_no_item_while_nobody_is_the_recipient(recipient: str, is_item: bool) -> None:
    found = places(f"order,{recipient},Label name", "1001,Ada Finch,Pen tray", "1002,Bo Reed,Ink pot")
    assert ("item" in found) is is_item


def test_a_state_of_orders_beside_their_status_is_not_the_status() -> None:
    found = places("order,Status,State", "1001,paid,open", "1002,paid,closed")
    assert found["status"] == 1


def test_a_word_of_four_letters_may_be_cut_off_and_one_of_three_may_not() -> None:
    assert not header_meaning("Stree").unknown
    assert not header_meaning("Quan").unknown
    assert header_meaning("Qua").unknown


@pytest.mark.parametrize(("header", "looks_like"), [("Phone 2", "address"), ("Item 2", "goods"), ("Zorp 2", "")])
def test_only_second_goods_look_like_goods(header: str, looks_like: str) -> None:
    (found,) = ignored_columns((header,), Samples([("555-0101",)], 1), [0], {})
    assert found.looks_like == looks_like


@pytest.mark.parametrize(
    ("header", "is_recipient"), [("Contact", True), ("Billing contact", False), ("Billing name", False)]
)
def test_people_of_the_bill_are_not_the_recipients(header: str, is_recipient: bool) -> None:
    assert ("recipient" in places(f"order,{header},item", "1001,Ada Finch,Pen", "1002,Bo Reed,Ink")) is is_recipient


def test_a_unit_does_not_replace_the_second_line_of_the_address() -> None:
    found = places("order,Street,Address 2,Unit", "1001,1 Ink Lane,Rear,Apt 3", "1002,2 Ink Lane,,Apt 4")
    assert found["address2"] == 2


def test_a_filler_with_a_meaning_of_its_own_keeps_it() -> None:
    assert header_meaning("Waren").concepts == {"item"}


@pytest.mark.parametrize("header", ["Address", "Street", "Address 1"])
def test_short_streets_are_streets_and_no_house_numbers(header: str) -> None:
    assert places(f"order,{header},city", "1001,1 Oak St,Bend", "1002,2 Elm St,Bath")["address1"] == 1


@pytest.mark.parametrize("codes", [("'05401", "'02134"), ("5401.0", "2134.0")])
@pytest.mark.parametrize("header", ["ZIP", "postal_code", "Postal code"])
def test_postal_codes_that_a_spreadsheet_changed_are_still_postal_codes(header: str, codes: tuple[str, str]) -> None:
    assert places(f"order,{header}", *(f"{at},{code}" for at, code in enumerate(codes)))["postal_code"] == 1


def test_one_order_with_a_status_for_its_state_leaves_the_others_their_states() -> None:
    assert places("order,State", "1001,OR", "1002,ME", "1003,New")["region"] == 1
    assert "region" not in places("order,State", "1001,ready", "1002,packed", "1003,new")


@pytest.mark.parametrize("header", ["Street No", "House number", "Hausnr."])
@pytest.mark.parametrize(
    ("cells", "field"),
    [
        (("12 Oak Street", "5 Elm Street"), "address1"),
        (("12", "5b"), "house_number"),
        (("Apt 3", "Apt 5"), None),
    ],
)
def test_whole_streets_in_a_column_for_the_house_number_are_the_street(header, cells, field) -> None:
    found = places(f"order,{header},city", f"1001,{cells[0]},Bend", f"1002,{cells[1]},Bath")
    assert [name for name, place in found.items() if place == 1] == ([field] if field else [])


def test_a_street_of_its_own_stays_the_street_beside_streets_in_the_house_number() -> None:
    found = places("order,Street,House number", "1001,Oak Street,12 Oak Street", "1002,Elm Street,5 Elm Street")
    assert (found["address1"], "house_number" in found) == (1, False)
