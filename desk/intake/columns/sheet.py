"""An imported table in any format: a header row, and rows of text with their line numbers."""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from functools import partial
from pathlib import Path
from typing import Any, NamedTuple  # fields of several types

from desk.intake.columns.reading import NOTHING_CHOSEN, ReadingChoices
from desk.tables.decoding import decode, without_controls
from desk.tables.delimited import Records, choose_delimiter, records, without_separator_line
from desk.tables.faults_found import unreadable
from desk.tables.files import MOST_BYTES, read_bytes
from desk.tables.watch import UNWATCHED, WHOLE, Watch
from desk.tables.workbook import is_workbook, workbook_sheets
from desk.tables.workbook_check import MOST_COLUMNS, MOST_ROWS

_strip = str.strip
Known = Callable[[Sequence[str]], int]


def no_header_known(_cells: Sequence[str]) -> int:
    """Return 0: for tables whose headers we do not know."""
    return 0


_WHERE_A_HEADER_STANDS = 20  # rows; few titles and dates come before a header


class Row(NamedTuple):
    """One row of text; `line` is its line in a text file, or its row number in a workbook."""

    line: int
    cells: tuple[str, ...]


# makes a Row from a pair twice as fast as its constructor
_row: Callable[[tuple[int, tuple[str, ...]]], Row] = partial(tuple.__new__, Row)


@dataclass(frozen=True, slots=True)
class Sheet:
    """A table as read. `encoding` and `delimiter` are empty for a workbook; blank rows are left out.

    `sheet` is the one of the workbook's `sheets` that was read; both are empty for text. `side_by_side` are the headers
    of further lines of an order, which became rows of their own.
    """

    name: str
    rows: tuple[Row, ...]
    header: tuple[str, ...]
    header_line: int
    encoding: str = ""
    delimiter: str = ""
    sheet: str = ""
    sheets: tuple[str, ...] = ()
    side_by_side: tuple[str, ...] = ()


def read_sheet(
    path: Path, chosen: ReadingChoices = NOTHING_CHOSEN, known: Known = no_header_known, watch: Watch = UNWATCHED
) -> Sheet:
    """Read CSV, TSV, XLSX or ODS; encoding, delimiter and sheet are detected unless chosen.

    `known` counts the meaningful headers in a row.

    Raises:
        Unreadable: the file is not a table, is damaged, is empty, or has nothing below its header.
        Stopped: the watcher canceled.
    """
    raw, name = read_bytes(path), str(path)
    if is_workbook(raw):
        return _workbook_sheet(raw, name, chosen.sheet, known, watch)
    text, encoding = decode(raw, name, chosen.encoding, watch.part(0, 200))
    return _text_sheet(text, name, known, watch.part(200, WHOLE), encoding=encoding, delimiter=chosen.delimiter)


def read_sheet_text(
    text: str,
    chosen: ReadingChoices = NOTHING_CHOSEN,
    name: str = "the clipboard",
    known: Known = no_header_known,
    watch: Watch = UNWATCHED,
) -> Sheet:
    """Read a table from text, such as the clipboard's. Raises Unreadable as for a file."""
    if len(text) > MOST_BYTES:
        raise unreadable(name, "a table of at most 64 million characters")
    return _text_sheet(without_controls(text), name, known, watch, encoding="", delimiter=chosen.delimiter)


def _text_sheet(text: str, name: str, known: Known, watch: Watch, *, encoding: str, delimiter: str) -> Sheet:
    delimiter = delimiter or choose_delimiter(text, known, watch.part(0, 50))
    records_read = records(without_separator_line(text), name, delimiter, watch.part(50, WHOLE))
    return _sheet(name, records_read, known, encoding=encoding, delimiter=delimiter)


def _workbook_sheet(raw: bytes, name: str, chosen: str, known: Known, watch: Watch) -> Sheet:
    """Return the chosen sheet, else the first one with the most known headers."""
    filled = workbook_sheets(raw, name, watch.part(0, 800))
    if chosen and chosen not in filled:
        named = ", ".join(map(repr, filled)) or "none"
        raise unreadable(name, f"a sheet called {chosen!r}; those with cells are {named}")
    best = chosen or max(filled, key=lambda sheet: _known_in(filled[sheet], known), default="")
    rows = watch.part(800, WHOLE).over(filled.get(best, []))
    return _sheet(name, rows, known, sheet=best, sheets=tuple(filled))


def _known_in(records_read: Sequence[tuple[int, list[str]]], known: Known) -> int:
    return max(
        (known([cell.strip() for cell in cells]) for _, cells in records_read[:_WHERE_A_HEADER_STANDS]), default=0
    )


def _sheet(name: str, records_read: Records, known: Known, **how: Any) -> Sheet:  # other fields of Sheet
    rows = [_row((line, row)) for line, cells in records_read if any(row := tuple(map(_strip, cells)))]
    if len(rows) > MOST_ROWS:
        raise unreadable(name, f"at most {MOST_ROWS:,} rows")
    if rows and max(len(row.cells) for row in rows) > MOST_COLUMNS:
        raise unreadable(name, f"at most {MOST_COLUMNS:,} columns")
    if not rows:
        raise unreadable(name, "a header row and rows below it, but the file is empty")
    place = header_place([row.cells for row in rows[:_WHERE_A_HEADER_STANDS]], known)
    header = rows[place]
    if len(rows) == place + 1:
        raise unreadable(name, "rows below the header, but there are none", header.line)
    return Sheet(name, tuple(rows[place + 1 :]), _made_unique(_trimmed(header.cells)), header.line, **how)


def header_place(rows: Sequence[Sequence[str]], names: Known = no_header_known) -> int:
    """Return the index of the header row: the one with most known names, else the first over half as wide as the
    widest.
    """
    known = [names(cells) for cells in rows]
    if max(known) >= 2:
        return known.index(max(known))
    filled = [sum(1 for cell in cells if cell) for cells in rows]
    return next(place for place, count in enumerate(filled) if count * 2 > max(filled))


def _made_unique(header: tuple[str, ...]) -> tuple[str, ...]:
    """Return the headers made unique: a second "Name" becomes "Name [2]"."""
    seen: Counter[str] = Counter()
    names = []
    for name in header:
        seen[name] += 1
        names.append(f"{name} [{seen[name]}]" if name and seen[name] > 1 else name)
    return tuple(names)


def _trimmed(cells: tuple[str, ...]) -> tuple[str, ...]:
    """Return the cells without empty ones at the end, which spreadsheets like to add."""
    end = max(place for place, cell in enumerate(cells, start=1) if cell)
    return cells[:end]
