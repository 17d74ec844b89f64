"""Units after the name of a column or after a number: read where clear, reported where two disagree."""

from __future__ import annotations

import time

import pytest

from desk.domain.length import LengthUnit
from desk.domain.weight import WeightUnit
from desk.intake.columns.amounts import NotRead
from desk.intake.columns.header_words import WEIGHT_WORDS
from desk.intake.columns.headers import WEIGHT_FIELDS, Meanings, by_word, folded, match_headers, meaning
from desk.intake.columns.units import (
    SIZE_UNITS,
    UNITS,
    at_odds,
    settled,
    strange_unit,
    unit_in,
    unit_word,
    without_unit,
)
from desk.intake.shop.product_list_words import MAILER_WORDS, PRODUCT_WORDS
from desk.intake.shop.product_lists import ListKind, known_headers
from desk.intake.weights import known_weight_headers
from desk.tables.faults_found import FaultsFound


@pytest.mark.parametrize(
    ("header", "name", "unit"),
    [
        ("weight (g)", "weight", "g"),
        ("Weight in oz", "Weight", "oz"),
        ("Gewicht (kg)", "Gewicht", "kg"),
        ("width [mm]", "width", "mm"),
        ("Weight(in oz)", "Weight", "oz"),
        ("peso en gramos", "peso", "gramos"),
        ("gross_weight_g", "gross_weight", "g"),
        ("weight, lbs.", "weight", "lbs"),
        ("weight - kg", "weight", "kg"),
        ("Gross (LB-OZ)", "Gross", "lb-oz"),
        ("weight ( lb  oz )", "weight", "lb oz"),
        ("Length (in)", "Length", "in"),
        ("length in inches", "length", "inches"),
        ("width in", "width", "in"),
        ("Dicke in mm", "Dicke", "mm"),
        ("weight", "weight", ""),
        ("weight (about)", "weight (about)", ""),
        ("unit_weight", "unit_weight", ""),
        ("g", "g", ""),
        ("(g)", "(g)", ""),
        ("weightg", "weightg", ""),
        ("length (cm)", "length (cm)", ""),
    ],
)
def test_the_unit_after_a_name(header: str, name: str, unit: str) -> None:
    assert without_unit(header) == (header if not unit else name, unit)


@pytest.mark.parametrize(
    ("header", "ours", "unit"),
    [
        ("weight (grams)", "gross", "g"),
        ("weight (grams)", "length", ""),
        ("length (inch)", "length", "in"),
        ("length (inch)", "tare", ""),
        ("order (g)", "order", ""),
    ],
)
def test_a_unit_applies_to_what_it_can_measure(header: str, ours: str, unit: str) -> None:
    assert unit_in(header, ours) == unit


@pytest.mark.parametrize("words", [WEIGHT_WORDS, PRODUCT_WORDS, MAILER_WORDS], ids=["weights", "products", "mailers"])
def test_every_word_for_a_dimension_is_recognized_with_a_unit_after_it(words: dict[str, str]) -> None:
    fields = by_word(words)
    kinds = {"gross": "g", "division": "oz", "unit_weight": "kg", "tare": "lb"} | dict.fromkeys(
        ("length", "width", "thickness"), "mm"
    )
    for word, ours in fields.items():
        expected = ours if ours in kinds else ""
        for form in ("{} ({})", "{} [{}]", "{} in {}", "{}_{}"):
            assert (word, meaning(form.format(word, kinds.get(ours, "g")), fields)) == (word, expected)


@pytest.mark.parametrize("words", [WEIGHT_WORDS, PRODUCT_WORDS, MAILER_WORDS])
def test_a_unit_in_a_header_does_not_change_its_field(words: dict[str, str]) -> None:
    fields = by_word(words)
    for ours, line in words.items():
        for word in (ours, *filter(None, line.split("|"))):
            assert meaning(word, fields) == fields[folded(word)]


def test_a_header_row_is_recognized_by_headers_with_units() -> None:
    assert known_weight_headers(["Order No", "Weight (g)", "Width [mm]", "shelf (g)"]) == 3
    assert known_headers(ListKind.PRODUCTS)(["SKU", "Gewicht (g)", "Dicke in mm", "weight (mm)"]) == 3


def test_columns_that_share_a_unit_must_agree() -> None:
    assert list(at_odds({"length": "in", "width": "mm", "thickness": "in", "gross": "g", "tare": "oz"})) == [
        ("width", "length")
    ]
    assert list(at_odds({"gross": "lb-oz", "division": "oz"})) == []
    assert list(at_odds({"gross": "kg", "division": "oz"})) == [("division", "gross")]


@pytest.mark.parametrize(
    ("cells", "typed", "headed", "expected"),
    [
        ({"gross": "119"}, "", {"gross": "g"}, ({"gross": "119"}, "g")),
        ({"gross": "119"}, "Grams", {}, ({"gross": "119"}, "g")),
        ({"gross": "119"}, "", {}, ({"gross": "119"}, "")),
        ({"gross": "119 g"}, "g", {"gross": "g"}, ({"gross": "119"}, "g")),
        ({"gross": "1.234,5g"}, "", {}, ({"gross": "1.234,5"}, "g")),
        ({"gross": ".5 oz."}, "", {}, ({"gross": ".5"}, "oz")),
        ({"gross": "1 lb 3.2 oz"}, "lb/oz", {}, ({"gross": "1 lb 3.2 oz"}, "lb-oz")),
        ({"gross": "12 stone"}, "", {}, ({"gross": "12 stone"}, "")),
        ({"gross": ""}, "g", {}, ({"gross": ""}, "g")),
        ({"length": "9 in", "width": "4"}, "", {"width": "in"}, ({"length": "9", "width": "4"}, "in")),
        ({}, "mm", {"length": "in"}, ({}, "mm")),
    ],
)
def test_a_column_without_a_unit_takes_that_of_another(
    cells: dict[str, str], typed: str, headed: dict[str, str], expected: tuple[dict[str, str], str]
) -> None:
    assert settled(cells, typed, headed) == expected


@pytest.mark.parametrize(
    ("cells", "typed", "headed"),
    [
        ({"gross": "119"}, "oz", {"gross": "g"}),
        ({"gross": "119 g"}, "oz", {}),
        ({"gross": "119 g"}, "", {"gross": "kg"}),
        ({"length": "9 in", "width": "4 mm"}, "", {}),
        ({"length": "9", "width": "4"}, "", {"length": "in", "width": "mm"}),
    ],
)
def test_two_units_for_one_number_are_a_fault(cells: dict[str, str], typed: str, headed: dict[str, str]) -> None:
    with pytest.raises(NotRead, match="one unit; the cell, the header and the column of units say"):
        settled(cells, typed, headed)


def test_a_unit_of_several_words_is_one_unit() -> None:
    assert [unit_word(word, "tare") for word in ("OUNCES", "stone", "")] == ["oz", "stone", ""]
    assert {*UNITS.values()} == {*WeightUnit}
    assert {*SIZE_UNITS.values()} == {*LengthUnit}


@pytest.mark.parametrize(
    ("header", "ours", "word"),
    [("length (cm)", "length", "cm"), ("length (g)", "length", "g"), ("weight in t", "tare", "t"), ("name (cm)", "name", ""), ("length (flat)", "length", "")],
)  # fmt: skip
def test_an_unsupported_unit_is_not_a_unit(header: str, ours: str, word: str) -> None:
    assert strange_unit(header, ours) == word


def test_a_mapped_header_gives_its_unit_too_and_an_unknown_one_is_a_fault() -> None:
    faults = FaultsFound("f")
    header = ("no", "How heavy (oz)", "How long (cm)")
    mapped = {"order": "no", "gross": "How heavy (oz)", "length": "How long (cm)"}
    columns = match_headers(header, Meanings(WEIGHT_FIELDS, mapped), faults, 4)
    assert columns.units == {"gross": "oz"}
    assert list(map(str, faults.faults)) == [
        "f: line 4, How long (cm): 'cm' found, expected one of the units of a length: in, mm"
    ]


@pytest.mark.parametrize(
    "text", ["a" + " " * 500_000 + "b", "1" + " " * 500_000 + "g!", "a(" * 200_000, "1" * 500_000 + "x!"]
)
def test_very_long_cells_are_read_quickly(text: str) -> None:
    before = time.process_time()
    assert without_unit(text) == (text, "")
    assert settled({"gross": text}, "", {}) == ({"gross": text}, "")
    assert time.process_time() - before < 1.0
