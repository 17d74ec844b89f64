"""Lines of an order that are side by side in one row ("Item 1", "Qty 1", "Item 2", "Qty 2"), as rows of their own."""

from __future__ import annotations

from collections.abc import Collection, Sequence
from dataclasses import replace
from typing import NamedTuple

from desk.intake.columns.sheet import Row, Sheet
from desk.intake.order_headers.words import ADDRESS_PARTS, HeaderMeaning, header_meaning

_GOODS = frozenset({"item", "sku", "listing"})  # without one of these, numbered columns are no lines
_OF_A_LINE = _GOODS | {"variant", "quantity", "price", "each", "each-price", "amount", "count"}
_NO_LINE = (ADDRESS_PARTS - {"name"}) | {"shipping", "discount", "tax", "order"}


class _Part(NamedTuple):
    """A column of the first line, and the same column of another line."""

    first: int
    other: int


def in_rows(sheet: Sheet, named: Collection[str] = ()) -> Sheet:
    """Return the sheet with each line of an order in a row of its own, without the columns of further lines.

    A further line has an empty order number, so it continues the order above. Columns that a mapping has `named` stay.
    """
    lines = {
        number: parts
        for number, parts in _lines(sheet.header).items()
        if not any(sheet.header[part.other] in named for part in parts)
    }
    if not lines:
        return sheet
    moved = {part.other for parts in lines.values() for part in parts}
    kept = [place for place in range(len(sheet.header)) if place not in moved]
    rows = [row for one in sheet.rows for row in _rows_of(one, lines.values(), kept)]
    return replace(
        sheet,
        header=tuple(sheet.header[place] for place in kept),
        rows=tuple(rows),
        side_by_side=tuple(sheet.header[place] for place in sorted(moved)),
    )


def _lines(header: Sequence[str]) -> dict[int, list[_Part]]:
    """Return the columns of each further line by its number; only those whose goods have a column in the first line."""
    meanings = [header_meaning(name) if name else HeaderMeaning() for name in header]
    first: dict[HeaderMeaning, int] = {}
    for place, meaning in enumerate(meanings):
        if meaning.index <= 1 and _is_of_a_line(meaning):
            first.setdefault(replace(meaning, index=0), place)
    lines: dict[int, list[_Part]] = {}
    for place, meaning in enumerate(meanings):
        like = first.get(replace(meaning, index=0))
        if meaning.index > 1 and like is not None:
            lines.setdefault(meaning.index, []).append(_Part(like, place))
    return {
        number: parts
        for number, parts in sorted(lines.items())
        if any(meanings[part.first].concepts & _GOODS for part in parts)
    }


def _is_of_a_line(meaning: HeaderMeaning) -> bool:
    return not meaning.unknown and bool(meaning.concepts & _OF_A_LINE) and not meaning.concepts & _NO_LINE


def _rows_of(row: Row, lines: Collection[Sequence[_Part]], kept: Sequence[int]) -> list[Row]:
    """Return the first line of a row, then a row for each further line that has cells."""
    cells = row.cells
    found = [Row(row.line, tuple(cells[place] for place in kept if place < len(cells)))]
    for parts in lines:
        given = {part.first: cells[part.other] for part in parts if part.other < len(cells)}
        if any(given.values()):
            found.append(Row(row.line, tuple(given.get(place, "") for place in kept)))
    return found
