"""Lines of an order that are side by side in one row ("Item 1", "Qty 1", "Item 2", "Qty 2"), as rows of their own."""

from __future__ import annotations

from collections.abc import Collection, Sequence
from dataclasses import replace
from typing import NamedTuple

from desk.intake.columns.sheet import Row, Sheet
from desk.intake.order_headers.words import ADDRESS_PARTS, HeaderMeaning, header_meaning

_GOODS = frozenset({"item", "sku", "listing"})  # without one of these, numbered columns are no lines
_ITEM = frozenset({"item", "listing"})
_COUNTED = frozenset({"quantity", "price", "each", "each-price", "amount", "count"})
_OF_A_LINE = _GOODS | _COUNTED | {"variant"}
_NO_LINE = (ADDRESS_PARTS - {"name"}) | {"shipping", "discount", "tax", "order"}


class _Part(NamedTuple):
    """A column of the first line, and the same column of another line."""

    first: int
    other: int


class _Line(NamedTuple):
    """The columns of a further line; `goods` are the places of those that name its goods."""

    parts: tuple[_Part, ...]
    goods: tuple[int, ...]


def in_rows(sheet: Sheet, named: Collection[str] = ()) -> Sheet:
    """Return the sheet with each line of an order in a row of its own, without the columns of further lines.

    A further line has an empty order number, so it continues the order above. Columns that a mapping has `named` stay.
    """
    lines = [line for line in _lines(sheet.header) if not any(sheet.header[part.other] in named for part in line.parts)]
    if not lines:
        return sheet
    moved = {part.other for line in lines for part in line.parts}
    places = [place for place in range(len(sheet.header)) if place not in moved]
    rows = [row for one in sheet.rows for row in _rows_of(one, lines, places, len(sheet.header))]
    return replace(
        sheet,
        header=tuple(sheet.header[place] for place in places),
        rows=tuple(rows),
        side_by_side=tuple(sheet.header[place] for place in sorted(moved)),
    )


def _lines(header: Sequence[str]) -> list[_Line]:
    """Return the further lines that a header row has columns for.

    A line names its goods in the same way as the first one, and counts them: "SKU 2" alone is another code of one item,
    and "Title 2" the rest of its name. Only "Item 1" and "Item 2" need no counts.
    """
    meanings = [header_meaning(name) if name else HeaderMeaning() for name in header]
    first: dict[HeaderMeaning, int] = {}
    for place, meaning in enumerate(meanings):
        if meaning.index <= 1 and _is_of_a_line(meaning):
            first.setdefault(replace(meaning, index=0), place)
    parts: dict[int, list[_Part]] = {}
    for place, meaning in enumerate(meanings):
        like = first.get(replace(meaning, index=0))
        if meaning.index > 1 and like is not None:
            parts.setdefault(meaning.index, []).append(_Part(like, place))
    names = {place for place in first.values() if _names_goods(meanings[place])}
    items = {place for place in names if meanings[place].concepts & _ITEM} or names
    lines = []
    for _, columns in sorted(parts.items()):
        goods = [part for part in columns if part.first in items]
        is_counted = any(meanings[part.first].concepts & _COUNTED for part in columns)
        if goods and (is_counted or all(meanings[part.first].index == 1 for part in goods)):
            lines.append(_Line(tuple(columns), tuple(part.other for part in goods)))
    return lines


def _names_goods(meaning: HeaderMeaning) -> bool:
    """Return whether a column names goods; "Item option" tells about the goods another column names."""
    return bool(meaning.concepts & _GOODS) and "variant" not in meaning.concepts


def _is_of_a_line(meaning: HeaderMeaning) -> bool:
    return not meaning.unknown and bool(meaning.concepts & _OF_A_LINE) and not meaning.concepts & _NO_LINE


def _rows_of(row: Row, lines: Collection[_Line], places: Sequence[int], width: int) -> list[Row]:
    """Return the first line of a row, then a row for each further line with goods. Cells beyond the header stay."""
    cells = row.cells
    made = [Row(row.line, (*(cells[place] for place in places if place < len(cells)), *cells[width:]))]
    for line in lines:
        given = {part.first: cells[part.other] for part in line.parts if part.other < len(cells)}
        if any(cells[place] for place in line.goods if place < len(cells)):
            made.append(Row(row.line, tuple(given.get(place, "") for place in places)))
    return made
