"""Lines side by side in one row become rows: no goods of an order are lost, and nothing else is taken for a line."""

from __future__ import annotations

from pathlib import Path

import pytest

from desk.domain.places.country import Countries
from desk.intake.columns.sheet import Row, Sheet
from desk.intake.order_headers.mapping_file import ColumnMapping
from desk.intake.orders.order_list import OrderRules, read_orders
from desk.intake.orders.side_by_side import in_rows
from tests.intake.tables import put

HEADER = ("Order", "Name", "Item 1", "Qty 1", "Item 2", "Qty 2", "Item 3", "Qty 3", "Note")


def sheet(header: tuple[str, ...], *rows: tuple[str, ...]) -> Sheet:
    return Sheet("list.csv", tuple(Row(line, cells) for line, cells in enumerate(rows, 2)), header, 1)


def test_each_line_with_cells_becomes_a_row_that_continues_the_order():
    found = in_rows(sheet(HEADER, ("7", "Ada", "Pen", "1", "Ink", "2", "", "", "hi"), ("8", "Bo", "Pen", "1")))
    assert found.header == ("Order", "Name", "Item 1", "Qty 1", "Note")
    assert found.side_by_side == ("Item 2", "Qty 2", "Item 3", "Qty 3")
    assert found.rows == (
        Row(2, ("7", "Ada", "Pen", "1", "hi")),
        Row(2, ("", "", "Ink", "2", "")),
        Row(3, ("8", "Bo", "Pen", "1")),
    )


@pytest.mark.parametrize(
    "header",
    [
        ("Order", "Item", "Address 1", "Address 2"),
        ("Order", "Item", "Option 1", "Option 2"),  # two variants of one item
        ("Order", "Item", "Phone 1", "Phone 2"),
        ("Order", "Item 2", "Qty 2"),  # the second of nothing
        ("Order", "Item", "Item [2]"),  # a header given twice
        ("Order", "Item", "Qty 1", "Qty 2"),  # numbers without goods
        ("Order", "Item", "Shipping 1", "Shipping 2"),
        ("Order", "Item", "Item 2"),  # the rest of a name, perhaps
        ("Order", "Item", "Qty", "Item option 1", "Item option 2"),
        ("Order", "Item", "Qty", "SKU 1", "SKU 2"),
    ],
)
def test_other_numbered_columns_are_not_order_lines(header):
    same = sheet(header, tuple("abcd"[: len(header)]))
    assert in_rows(same) is same


def test_items_numbered_from_one_need_no_quantity_columns():
    found = in_rows(sheet(("Order", "Item 1", "Item 2"), ("7", "Pen", "Ink")))
    assert [row.cells for row in found.rows] == [("7", "Pen"), ("", "Ink")]


def test_empty_item_columns_add_no_line_and_extra_cells_are_kept():
    found = in_rows(sheet(HEADER[:6], ("7", "Ada", "Pen", "1", "", "0", "beyond")))
    assert found.rows == (Row(2, ("7", "Ada", "Pen", "1", "beyond")),)


def test_mapped_columns_are_left_unchanged():
    same = sheet(HEADER[:6], ("7", "Ada", "Pen", "1", "Ink", "2"))
    assert in_rows(same, {"Item 2"}) is same
    assert in_rows(same, {"Note"}) is not same


def test_every_item_of_an_order_form_is_imported_with_its_price(tmp_path: Path) -> None:
    text = (
        "Order|Recipient|Street|City|State|Zip|Country|Product 1 Name|Product 1 Qty|Product 1 Price|Product 2 Name|Product 2 Qty"
        "|Product 2 Price|Order Total\n"
        "1|Ada Finch|12 Ink Lane|Bend|OR|97701|US|Notebook|1|12.50|Pen|2|3.00|18.50\n"
        "2|Bo Reed|5 Quire Street|Bath|ME|04530|US|Pen|1|3.00||||3.00\n"
    )
    countries = Countries({"US": "UNITED STATES"}, {})
    first, second = read_orders(put(tmp_path, "form.csv", text), OrderRules(countries, "USD")).orders
    assert [(line.item, line.quantity, line.unit_price.minor) for line in first.lines] == [
        ("Notebook", 1, 1250),
        ("Pen", 2, 300),
    ]
    assert [line.item for line in second.lines] == ["Pen"]
    assert not any(found.code == "total-differs" for order in (first, second) for found in order.findings)


def test_a_mapping_can_ignore_the_second_item(tmp_path: Path) -> None:
    text = "Order,Recipient,Country,Item 1,Item 2\n1,Ada Finch,US,Pen,Ink\n"
    rules = OrderRules(Countries({"US": "UNITED STATES"}, {}), "USD", ColumnMapping(ignore=("Item 2",)))
    (order,) = read_orders(put(tmp_path, "form.csv", text), rules).orders
    assert [line.item for line in order.lines] == ["Pen"]
