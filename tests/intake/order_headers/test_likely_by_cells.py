"""A needed column under a header we do not know is suggested by its cells, and never used unseen."""

from __future__ import annotations

import pytest

from desk.intake.columns.samples import Samples
from desk.intake.order_headers.likely_by_cells import with_likely_cells
from desk.intake.order_headers.match import OrderColumns, match_order_headers
from desk.tables.faults_found import FaultsFound

COUNTRIES = {"Germany", "Ghana", "DE"}


def matched(header: tuple[str, ...], *rows: tuple[str, ...]) -> OrderColumns:
    samples = Samples(rows, len(header))
    found = match_order_headers(header, samples, {}, (), FaultsFound("list.csv"), 1)
    return with_likely_cells(found, samples, COUNTRIES.__contains__)


def offers(found: OrderColumns) -> dict[str, str]:
    return {offer.ours: offer.header for offer in found.suggestions}


ROWS = (
    ("K-7", "Ada Finch", "1 Ink Lane", "Germany", "Green pencil case", "4.00"),
    ("K-8", "Bo Reed", "2 Ink Lane", "Ghana", "Pencil", "1.00"),
    ("K-8", "Bo Reed", "2 Ink Lane", "Ghana", "Eraser", "1.50"),
)


def test_the_four_required_columns_are_suggested_by_their_cells_and_none_is_used():
    found = matched(("Zog", "Wer", "Street", "Wohin", "Dings", "Blip"), *ROWS)
    assert offers(found) == {"country": "Wohin", "recipient": "Wer", "order": "Zog", "item": "Dings"}
    assert found.columns.places.keys() == {"address1"}
    assert [one.header for one in found.ignored] == ["Blip"]


@pytest.mark.parametrize(
    ("field", "place", "cells"),
    [
        ("country", 3, ("Bend", "Bath", "Bath")),  # towns
        ("recipient", 1, ("Finch", "Reed", "Reed")),  # one word each
        ("order", 0, ("7", "8", "9")),  # a customer with two orders
        ("order", 0, ("7", "7", "7")),  # one number for two buyers
        ("order", 0, ("4.00", "1.00", "1.00")),  # amounts
        ("item", 4, ("a@b.example", "c@d.example", "c@d.example")),
        ("item", 4, ("DE", "DE", "Ghana")),
    ],
)
def test_cells_unlike_the_field_are_not_suggested(field, place, cells):
    rows = [(*row[:place], cell, *row[place + 1 :]) for row, cell in zip(ROWS, cells, strict=True)]
    found = matched(("Zog", "Wer", "Street", "Wohin", "Dings", "Blip"), *rows)
    assert offers(found).get(field) == ("Zog" if cells == ("7", "8", "9") else None)


def test_a_header_with_another_meaning_is_not_suggested_whatever_its_cells():
    rows = [(row[0], row[1], row[4]) for row in ROWS]
    assert offers(matched(("Order", "Supplier", "Warehouse"), *rows)) == {}
    assert offers(matched(("Order", "Zog", "Dings"), *rows)) == {"recipient": "Zog", "item": "Dings"}


def test_a_missing_country_is_not_guessed_from_other_columns():
    rows = [(row[0], row[1], row[4], "Bend") for row in ROWS]
    assert offers(matched(("Order", "Recipient", "Item", "Zog"), *rows)) == {}


@pytest.mark.parametrize("first", ["1001", "12.50", "$4.00", "2026-11-20", "ada@mail.example"])
def test_a_first_row_of_data_is_never_suggested_as_headers(first):
    assert offers(matched((first, "Wer", "Straße", "Wohin", "Dings", "4.00"), *ROWS)) == {}
    assert offers(matched((first, "Wer", "Straße", "Wohin", "Dings", "Blip"), *ROWS)) != {}  # one alone may be a header


def test_a_whole_address_is_suggested_where_the_country_is_missing():
    rows = [(*row[:2], f"{row[2]}, Bend, OR 97701, {row[3]}", *row[4:]) for row in ROWS]
    header = ("Order", "Recipient", "Wohin", "Zog", "Item", "Blip")
    assert offers(matched(header, *[(*row[:3], "x", *row[4:]) for row in rows])) == {"full_address": "Wohin"}
    assert offers(matched(("Order", "Recipient", "Wohin", "City", "Item", "Blip"), *rows)) == {}
