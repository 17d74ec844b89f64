"""A table someone brought, whatever its form: a header row, and rows of text with the line each stands on."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path

from desk.intake.decoding import decode
from desk.intake.delimited import Records, choose_delimiter, records, without_separator_line
from desk.intake.faults_found import unreadable
from desk.intake.files import read_bytes
from desk.intake.headers import known_names
from desk.intake.workbook import is_workbook, workbook_records

_WHERE_A_HEADER_STANDS = 20  # rows; titles and dates above it are few


@dataclass(frozen=True, slots=True)
class Row:
    """One row of text; `line` is its line in a text file, its row number in a workbook."""

    line: int
    cells: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Sheet:
    """A table as read. `encoding` and `delimiter` are empty for a workbook; blank rows are left out."""

    name: str
    rows: tuple[Row, ...]
    header: tuple[str, ...]
    header_line: int
    encoding: str = ""
    delimiter: str = ""


def read_sheet(path: Path, encoding: str | None = None, delimiter: str | None = None) -> Sheet:
    """Read CSV, TSV, XLSX or ODS. Encoding and delimiter are found out unless the person chose them.

    Raises Unreadable when the file is no table, is damaged, is empty, or holds nothing below its header.
    """
    raw, name = read_bytes(path), str(path)
    if is_workbook(raw):
        return _sheet(name, workbook_records(raw, name), "", "")
    text, encoding = decode(raw, name, encoding)
    delimiter = delimiter or choose_delimiter(text, known_names)
    return _sheet(name, records(without_separator_line(text), name, delimiter), encoding, delimiter)


def _sheet(name: str, found: Records, encoding: str, delimiter: str) -> Sheet:
    rows = [Row(line, tuple(cell.strip() for cell in cells)) for line, cells in found]
    rows = [row for row in rows if any(row.cells)]
    if not rows:
        raise unreadable(name, "a header row and rows below it, but the file is empty")
    place = header_place([row.cells for row in rows[:_WHERE_A_HEADER_STANDS]])
    header = rows[place]
    if len(rows) == place + 1:
        raise unreadable(name, "rows below the header, but there are none", header.line)
    return Sheet(name, tuple(rows[place + 1 :]), _trimmed(header.cells), header.line, encoding, delimiter)


def header_place(rows: Sequence[Sequence[str]]) -> int:
    """Which row is the header: the one with most known names, else the first that is more than half as wide."""
    known = [known_names(cells) for cells in rows]
    if max(known) >= 2:
        return known.index(max(known))
    filled = [sum(1 for cell in cells if cell) for cells in rows]
    return next(place for place, count in enumerate(filled) if count * 2 > max(filled))


def _trimmed(cells: tuple[str, ...]) -> tuple[str, ...]:
    """Without the empty cells at its end, which spreadsheets like to add."""
    end = max(place for place, cell in enumerate(cells, start=1) if cell)
    return cells[:end]
