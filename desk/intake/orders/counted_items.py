"""Items of an order written with their counts in one cell: "2x Notebook; 1x Pen", or "Bookmark x 3, Card x 2"."""

from __future__ import annotations

import re
from collections.abc import Iterable
from enum import Enum, auto
from typing import NamedTuple

from desk.intake.columns.amounts import NotRead, count
from desk.intake.columns.formats import FormatWord
from desk.intake.orders.order_lines import KnownProducts, LineCells

_COUNT = "([1-9][0-9]{0,2})"
_BETWEEN = " ?[;,|+&\n] ?"
_COUNT_FIRST = re.compile(rf"{_COUNT} ?[x\u00d7] (?=[^\W\d_])")  # "4 x 6 print" is a size, "2X Large" too
_COUNT_LAST = re.compile(rf"(.+?) [x\u00d7] ?{_COUNT}(?:{_BETWEEN}|$)", re.DOTALL)
_SIGNS = frozenset(["", *";,|+&\n"])
_UNCOUNTED = re.compile(r"[;|\n]")  # another item follows; a comma may be part of a name
# A size such as "Print 9 in x 12".
_SIZE = re.compile(r"(?<!\S)\d[\d.,/]*\s*(in|inch|inches|ft|cm|mm|m|[\"'\u2032\u2033])?$", re.IGNORECASE)


class ItemCells(Enum):
    """How the cells with items are read. COUNTED: every cell has counts, so that even a single one is a count."""

    AS_WRITTEN = auto()
    BY_CELL = auto()
    COUNTED = auto()


class CellOfItems(NamedTuple):
    """A cell with several items, and the count and name of each."""

    text: str
    items: tuple[tuple[str, str], ...]


def item_cells(texts: Iterable[str], chosen: Iterable[FormatWord]) -> ItemCells:
    """Return how a column of items is read: as a mapping says, or by its cells."""
    if FormatWord.AS_WRITTEN in chosen:
        return ItemCells.AS_WRITTEN
    has_several = False
    for text in texts:
        items = _items_in(text)
        if not items:
            return ItemCells.BY_CELL
        has_several = has_several or len(items) > 1
    return ItemCells.COUNTED if has_several else ItemCells.BY_CELL


def counted_items(line: LineCells, products: KnownProducts, cells: ItemCells = ItemCells.BY_CELL) -> list[LineCells]:
    """Return a line for each item in the cell, with its count; the line itself when not every item there has one.

    A line with a SKU, variant or amount of its own stays as it is, and so does a product of the shop that is called so.
    A single count may be part of a name ("10x Magnifying glass") unless all cells have counts or the rest is a product
    of the shop. A quantity of its own has to be 1, or the sum of the counts, in a list where all cells have counts.
    """
    if cells is ItemCells.AS_WRITTEN or any(line._replace(item="", quantity="")) or products.kind(line):
        return [line]
    lines = [LineCells(item=item, quantity=count) for count, item in _items_in(line.item)]
    if line.quantity and not (cells is ItemCells.COUNTED and _agrees(line.quantity, lines)):
        return [line]
    if len(lines) == 1 and cells is not ItemCells.COUNTED and not products.kind(lines[0]):
        return [line]
    return lines or [line]


def cells_of_items(texts: Iterable[str], most: int) -> tuple[CellOfItems, ...]:
    """Return the first cells with several items, to show how they are read."""
    cells: list[CellOfItems] = []
    for text in texts:
        items = tuple(_items_in(text))
        if len(items) > 1:
            cells.append(CellOfItems(text, items))
        if len(cells) == most:
            break
    return tuple(cells)


def _agrees(quantity: str, lines: Iterable[LineCells]) -> bool:
    try:
        return count(quantity) in (1, sum(int(line.quantity) for line in lines))
    except NotRead:
        return False


def _items_in(cell: str) -> list[tuple[str, str]]:
    """Return the counts and items of a cell; none when one of its items has no count."""
    text = re.sub(r"\s*\n\s*", "\n", re.sub(r"[^\S\n]+", " ", cell.strip()))
    return _count_first(text) or _count_last(text)


def _count_first(text: str) -> list[tuple[str, str]]:
    """Return the counts and items of "2x Notebook; 1x Pen"."""
    starts = [match for match in _COUNT_FIRST.finditer(text) if _starts_item(text[: match.start()])]
    if not starts or starts[0].start() > 0:
        return []
    ends = [*(match.start() for match in starts[1:]), len(text)]
    items = [re.sub(f"{_BETWEEN}$", "", text[match.end() : end]) for match, end in zip(starts, ends, strict=True)]
    if any(_UNCOUNTED.search(item) or _COUNT_LAST.fullmatch(item) for item in items):
        return []
    return [(match[1], item) for match, item in zip(starts, items, strict=True)]


def _starts_item(before: str) -> bool:
    return before.strip(" ")[-1:] in _SIGNS


def _count_last(text: str) -> list[tuple[str, str]]:
    """Return the counts and items of "Bookmark x 3, Card x 2"."""
    items, end = [], 0
    while end < len(text):
        match = _COUNT_LAST.match(text, end)
        if match is None or _SIZE.search(match[1]) or _UNCOUNTED.search(match[1]):
            return []
        items.append((match[2], match[1]))
        end = match.end()
    return items
