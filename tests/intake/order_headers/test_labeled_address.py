"""The only address of a table is read when its headers share an unknown word."""

from __future__ import annotations

import pytest

from desk.intake.columns.samples import Samples
from desk.intake.order_headers.match import match_order_headers
from desk.tables.faults_found import FaultsFound

LABELED = ("Order", "Zorp Name", "Zorp Addr", "Zorp City", "Zorp Zip", "Zorp Country", "Item")
ROWS = [
    ("1001", "Ada Finch", "1 Ink Lane", "Bend", "97701", "US", "Pen"),
    ("1002", "Bo Reed", "5 Quire Street", "Bath", "04530", "US", "Pen"),
    ("1003", "Cy Bell", "9 Folio Road", "Salem", "97301", "US", "Ink"),
]


def places(header, rows):
    found = match_order_headers(header, Samples(rows, len(header)), {}, (), FaultsFound("orders.csv"), 1)
    return found.columns.places


def test_an_address_with_an_unknown_label_is_read():
    names = ("order", "recipient", "address1", "city", "postal_code", "country", "item")
    assert places(LABELED, ROWS) == {name: at for at, name in enumerate(names)}


@pytest.mark.parametrize(("same", "more", "is_read"), [(1, 0, True), (2, 0, False), (2, 1, True)])
def test_an_address_repeated_in_most_rows_may_be_that_of_the_shop(same: int, more: int, is_read: bool) -> None:
    rows = [(*row[:2], *(ROWS[0] if at < same else row)[2:6], row[6]) for at, row in enumerate(ROWS)]
    rows += [("1004", "Di Sand", "3 Leaf Way", "Dover", "03820", "US", "Pen")] * more
    assert ("address1" in places(LABELED, rows)) is is_read


def test_two_labeled_addresses_are_asked_about():
    other = tuple(name.replace("Zorp", "Blip") for name in LABELED[1:6])
    rows = [(*row, *row[1:6]) for row in ROWS]
    assert "address1" not in places((*LABELED, *other), rows)


def test_a_labeled_address_next_to_the_shipping_address_is_not_read():
    header = (*LABELED, "Ship to street", "Ship to city")
    rows = [(*row, "7 Leaf Way", "Dover") for row in ROWS]
    assert places(header, rows)["address1"] == 7


@pytest.mark.parametrize(("missing", "is_read"), [("Zorp Country", True), ("Zorp Zip", False), ("Zorp City", False)])
def test_an_address_needs_a_city_and_a_postal_code(missing: str, is_read: bool) -> None:
    kept = [at for at, name in enumerate(LABELED) if name != missing]
    found = places(tuple(LABELED[at] for at in kept), [tuple(row[at] for at in kept) for row in ROWS])
    assert ("address1" in found) is is_read


def test_a_column_whose_cells_do_not_fit_is_not_part_of_the_address():
    rows = [(*row[:5], str(4411 + at), row[6]) for at, row in enumerate(ROWS)]
    assert "country" not in places(LABELED, rows)
