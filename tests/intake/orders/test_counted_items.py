"""Several items in one cell become lines with their counts; sizes and names with an x in them do not."""

from __future__ import annotations

from time import process_time

import pytest

from desk.intake.columns.formats import FormatWord
from desk.intake.columns.headers import folded
from desk.intake.orders.counted_items import ItemCells, cells_of_items, counted_items, item_cells
from desk.intake.orders.order_lines import KnownProducts, LineCells

NONE_KNOWN = KnownProducts()


@pytest.mark.parametrize(
    ("cell", "items"),
    [
        ("2x Notebook A5; 1x Pen", [("2", "Notebook A5"), ("1", "Pen")]),
        ("2 x Notebook (A5, blue), 1 x Pen", [("2", "Notebook (A5, blue)"), ("1", "Pen")]),
        ("Notebook A5 x 3, Pen x 1", [("3", "Notebook A5"), ("1", "Pen")]),
        ("Bookmark x 3, Card x2", [("3", "Bookmark"), ("2", "Card")]),
        ("1x Pen\n12x Ink", [("1", "Pen"), ("12", "Ink")]),
        ("999x Pin; 1x Pen", [("999", "Pin"), ("1", "Pen")]),
        ("2x Bookplates, set of 25; 1x Pen", [("2", "Bookplates, set of 25"), ("1", "Pen")]),
    ],
)
def test_each_counted_item_becomes_a_line(cell, items):
    found = counted_items(LineCells(item=cell), NONE_KNOWN)
    assert [(line.quantity, line.item) for line in found] == items


@pytest.mark.parametrize(
    "cell",
    [
        "Notebook A5",
        "4 x 6 print",
        "Print 9 x 12",
        "Print 9 in x 12",
        'Print 9" x 12',
        "1000x Pin; 1x Pen",
        "0x Pin; 1x Pen",
        "2X Large T-shirt; 2X Large Hoodie",
        "10x Magnifying glass",
        "Sticker, model X 3",
        "2x Notebook; Pen x 3",  # counted on both sides: whose is the last count?
        "2x Notebook; Pen",
        "Pen; 2x Notebook",
        "Box x",
        "",
    ],
)
def test_other_texts_stay_one_item(cell):
    line = LineCells(item=cell)
    assert counted_items(line, NONE_KNOWN) == [line]


@pytest.mark.parametrize("own", [{"quantity": "1"}, {"sku": "NB"}, {"variant": "blue"}, {"unit_price": "4.00"}])
def test_a_line_with_cells_of_its_own_stays(own):
    line = LineCells(item="2x Notebook; 1x Pen", **own)
    assert counted_items(line, NONE_KNOWN) == [line]


def test_a_single_count_is_read_where_the_rest_is_a_product_of_the_shop():
    known = KnownProducts(goods=frozenset({folded("Notebook A5"), folded("Pen")}))
    assert counted_items(LineCells(item="2x Notebook A5"), known) == [LineCells(item="Notebook A5", quantity="2")]
    assert counted_items(LineCells(item="Pen x 3"), known) == [LineCells(item="Pen", quantity="3")]


def test_a_product_with_such_a_name_stays_one_item():
    line = LineCells(item="3x Pencil set")
    assert counted_items(line, KnownProducts(goods=frozenset({folded("3x Pencil Set")}))) == [line]


@pytest.mark.parametrize("between", [" ", "\n", " x ", "1x a; ", " ; "])
def test_a_cell_of_the_maximum_length_is_read_quickly(between):
    started = process_time()
    counted_items(LineCells(item="a" + between * (2_000 // len(between)) + "b"), NONE_KNOWN)
    assert process_time() - started < 0.05


@pytest.mark.parametrize(
    ("cells", "expected"),
    [
        (("2x Notebook; 1x Pen", "1x Pen"), ItemCells.COUNTED),
        (("1x Pen", "10x Magnifying glass"), ItemCells.BY_CELL),  # no cell has several
        (("2x Notebook; 1x Pen", "Pen"), ItemCells.BY_CELL),  # one cell has no count
        ((), ItemCells.BY_CELL),
    ],
)
def test_a_single_count_is_split_off_only_where_all_cells_have_counts(cells, expected):
    assert item_cells(cells, ()) is expected
    assert item_cells(cells, (FormatWord.AS_WRITTEN,)) is ItemCells.AS_WRITTEN


@pytest.mark.parametrize(
    ("quantity", "cells", "lines"),
    [
        ("", ItemCells.COUNTED, 2),
        ("1", ItemCells.COUNTED, 2),
        ("1.0", ItemCells.COUNTED, 2),
        ("3", ItemCells.COUNTED, 2),  # the sum of the counts
        ("2", ItemCells.COUNTED, 1),  # twice all of it, or two items?
        ("a few", ItemCells.COUNTED, 1),
        ("1", ItemCells.BY_CELL, 1),
        ("", ItemCells.AS_WRITTEN, 1),
    ],
)
def test_a_quantity_next_to_counted_items_must_be_one_or_their_sum(quantity, cells, lines):
    line = LineCells(item="2x Notebook; 1x Pen", quantity=quantity)
    assert len(counted_items(line, NONE_KNOWN, cells)) == lines


def test_a_single_count_is_read_where_all_cells_have_counts():
    line = LineCells(item="3x Pen")
    assert counted_items(line, NONE_KNOWN, ItemCells.COUNTED) == [LineCells(item="Pen", quantity="3")]
    assert counted_items(line, NONE_KNOWN) == [line]


def test_the_first_cells_with_several_items_are_shown():
    several = "2x Notebook; 1x Pen"
    found = cells_of_items(["1x Pen", several, "Pen", "1x Pen; 1x Ink", "2x Pen; 1x Ink"], 2)
    assert [cell.text for cell in found] == [several, "1x Pen; 1x Ink"]
    assert found[0].items == (("2", "Notebook"), ("1", "Pen"))
