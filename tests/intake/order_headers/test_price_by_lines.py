"""Price times quantity is the total of a line: this decides which column is which."""

from __future__ import annotations

import pytest

from desk.intake.columns.samples import Samples
from desk.intake.order_headers.match import match_order_headers
from desk.tables.faults_found import FaultsFound

HEADER = ("Order", "Recipient", "Item", "Qty", "Price", "Total")
ROWS = [("1001", "Ada Finch", "Pen", "1", "12.50", "12.50"), ("1002", "Bo Reed", "Ink", "2", "9.00", "18.00")]


def places(rows, header=HEADER):
    found = match_order_headers(header, Samples(rows, len(header)), {}, (), FaultsFound("orders.csv"), 1)
    return found.columns.places


def test_a_price_that_multiplies_to_the_total_is_the_unit_price():
    assert places(ROWS)["unit_price"] == 4
    assert "line_total" not in places(ROWS)  # a plain "total" may be the order's


@pytest.mark.parametrize(("total", "is_unit"), [("18.00", True), ("9.00", False), ("18.01", False)])
def test_every_row_has_to_multiply_to_its_total(total: str, is_unit: bool) -> None:
    rows = [ROWS[0], (*ROWS[1][:5], total)]
    assert ("unit_price" in places(rows)) is is_unit


@pytest.mark.parametrize("quantity", ["", "x", "0"])
def test_a_row_with_an_unreadable_quantity_decides_nothing(quantity: str) -> None:
    rows = [(*ROWS[0][:3], quantity, *ROWS[0][4:]), (*ROWS[1][:3], "1", "9.00", "9.00")]
    assert "unit_price" not in places(rows)


def test_a_quantity_of_one_decides_nothing():
    rows = [(*row[:3], "1", row[4], row[4]) for row in ROWS]
    header = (*HEADER[:5], "Line sales")
    assert "line_total" not in places(rows, header)


def test_a_likely_line_total_is_decided_too():
    found = places(ROWS, (*HEADER[:4], "Unit Price", "Item Total"))
    assert (found["unit_price"], found["line_total"]) == (4, 5)


def test_two_pairs_that_multiply_are_asked_about():
    rows = [(*row, row[4], row[5]) for row in ROWS]
    rows = [(*row[:6], f"{float(row[4]) * 2:.2f}", f"{float(row[5]) * 2:.2f}") for row in rows]
    assert "unit_price" not in places(rows, (*HEADER, "Price net", "Total net"))


@pytest.mark.parametrize("sign", ["$", "€", "£"])
def test_the_currency_sign_does_not_matter(sign: str) -> None:
    assert places([(*row[:4], sign + row[4], sign + row[5]) for row in ROWS])["unit_price"] == 4


@pytest.mark.parametrize(("price", "unit_price"), [("Selling price", None), ("Retail", None), ("Zorp", 4)])
def test_a_cost_beside_a_price_is_the_maker_s_own(price: str, unit_price: int | None) -> None:
    rows = [(*ROWS[0][:4], "5.00", "11.00", "5.00"), (*ROWS[1][:4], "4.00", "10.00", "8.00")]
    assert places(rows, (*HEADER[:4], "Item cost", price, "Line cost")).get("unit_price") == unit_price
