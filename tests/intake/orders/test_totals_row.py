"""A row of sums below the orders is no order, and adds nothing to the last one."""

from __future__ import annotations

import pytest

from desk.intake.columns.headers import Columns
from desk.intake.columns.sheet import Row
from desk.intake.orders.totals_row import totals_at_end

HEADER = ("Order", "Recipient", "Street", "Item", "Quantity", "Total")
COLUMNS = Columns(HEADER, {"order": 0, "recipient": 1, "address1": 2, "item": 3, "quantity": 4, "total": 5})
ONE, TWO = (
    ("1001", "Ada Finch", "1 Ink Lane", "Pen", "1", "4.00"),
    ("1002", "Bo Reed", "2 Ink Lane", "Pen", "2", "8.00"),
)
AGAIN = ("", "", "", "Ink", "1", "")


@pytest.mark.parametrize(
    ("rows", "expected"),
    [
        ((ONE, TWO), 0),
        ((ONE, TWO, ("Total", "", "", "", "3", "12.00")), 1),
        ((ONE, TWO, ("", "", "", "Grand total:", "", "12.00")), 1),
        ((ONE, TWO, ("", "", "", "", "3", "12.00")), 1),
        ((ONE, TWO, ("Total orders: 2", "", "", "", "3", "12.00")), 1),
        ((ONE, TWO, ("Grand Total (USD)", "", "", "", "", "12.00")), 1),
        ((ONE, TWO, ("Orders: 2 USD", "", "", "", "", "12.00")), 0),  # no word for a sum
        ((ONE, TWO, ("Zwischensumme", "", "", "", "3", "12.00"), ("Summe", "", "", "", "", "14.28 €")), 2),
        ((ONE, AGAIN, TWO, ("", "", "", "", "3", "12.00")), 0),  # perhaps more of order 1002
        ((ONE, AGAIN, TWO, ("", "Total", "", "", "3", "12.00")), 1),
        ((ONE, TWO, ("1003", "", "", "", "3", "12.00")), 0),  # an order with nothing but amounts is still an order
        ((ONE, ("Total", "Cy Bell", "", "Pen", "1", "4.00")), 0),  # a strange number, but a person's
        ((ONE, ("Summer", "", "", "", "1", "4.00")), 0),
        ((ONE, ("Total", "", "", "", "1", "4.00"), TWO), 0),  # in the middle it may be anything
    ],
)
def test_rows_of_totals_at_the_end_are_recognized(rows, expected):
    assert totals_at_end([Row(line, cells) for line, cells in enumerate(rows, 2)], COLUMNS) == expected


def test_a_list_with_only_totals_keeps_its_first_row():
    rows = [Row(2, ("Total", "", "", "", "3", "12.00")), Row(3, ("Total", "", "", "", "3", "12.00"))]
    assert totals_at_end(rows, COLUMNS) == 1
