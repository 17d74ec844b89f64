"""The only address of a table is suggested when its headers share an unknown word, and never used unseen."""

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
    return dict(found.columns.places)


def suggested(header, rows):
    found = match_order_headers(header, Samples(rows, len(header)), {}, (), FaultsFound("orders.csv"), 1)
    return {offer.ours: offer.place for offer in found.suggestions}


def test_an_address_with_an_unknown_label_is_suggested():
    names = ("recipient", "address1", "city", "postal_code", "country")
    assert places(LABELED, ROWS) == {"order": 0, "item": 6}
    assert suggested(LABELED, ROWS) == {name: at for at, name in enumerate(names, 1)}


@pytest.mark.parametrize("label", ["Pickup", "Artist", "Venue", "Depot"])
def test_a_name_of_its_own_is_the_recipient_and_not_that_of_the_label(label: str) -> None:
    header = ("Name", *(name.replace("Zorp", label) for name in LABELED))
    rows = [(name, *row) for name, row in zip(("Di Sand", "Ed Moss"), ROWS, strict=False)]
    assert places(header, rows) == {"recipient": 0, "order": 1, "item": 7}
    assert suggested(header, rows)["address1"] == 3


@pytest.mark.parametrize(("same", "more", "is_offered"), [(1, 0, True), (2, 0, False), (2, 1, True)])
def test_an_address_repeated_in_most_rows_may_be_that_of_the_shop(same: int, more: int, is_offered: bool) -> None:
    rows = [(*row[:2], *(ROWS[0] if at < same else row)[2:6], row[6]) for at, row in enumerate(ROWS)]
    rows += [("1004", "Di Sand", "3 Leaf Way", "Dover", "03820", "US", "Pen")] * more
    assert ("recipient" in suggested(LABELED, rows)) is is_offered


def test_two_labeled_addresses_are_asked_about():
    other = tuple(name.replace("Zorp", "Blip") for name in LABELED[1:6])
    rows = [(*row, *row[1:6]) for row in ROWS]
    assert "recipient" not in suggested((*LABELED, *other), rows)


def test_a_labeled_address_next_to_the_shipping_address_is_not_read():
    header = (*LABELED, "Ship to street", "Ship to city")
    rows = [(*row, "7 Leaf Way", "Dover") for row in ROWS]
    assert places(header, rows)["address1"] == 7


@pytest.mark.parametrize(("missing", "is_offered"), [("Zorp Country", True), ("Zorp Zip", False), ("Zorp City", False)])
def test_an_address_needs_a_city_and_a_postal_code(missing: str, is_offered: bool) -> None:
    kept = [at for at, name in enumerate(LABELED) if name != missing]
    found = suggested(tuple(LABELED[at] for at in kept), [tuple(row[at] for at in kept) for row in ROWS])
    assert ("recipient" in found) is is_offered


def test_a_column_whose_cells_do_not_fit_is_not_part_of_the_address():
    rows = [(*row[:5], str(4411 + at), row[6]) for at, row in enumerate(ROWS)]
    assert "country" not in suggested(LABELED, rows)
