"""Read a table of a fixed form, such as prices or extras, with the line each row is on: CSV in UTF-8, or a workbook."""

from __future__ import annotations

from importlib.resources.abc import Traversable

from desk.tables.delimited import records
from desk.tables.faults_found import unreadable
from desk.tables.workbook import is_workbook, workbook_sheets

SUFFIXES = (".csv", ".xlsx", ".ods")
LONGEST = 10_000  # characters of a cell: a fault shows the cell, so its length is limited

Lines = list[tuple[int, list[str]]]


def numbered_rows(file: Traversable, name: str) -> Lines:
    """Return the rows with their line, heading first, without empty ones; of a workbook, those of its first sheet.

    Raises:
        Unreadable: not UTF-8, an open quote, an endless cell, or a damaged workbook.
    """
    raw = file.read_bytes()
    if is_workbook(raw):
        rows = next(iter(workbook_sheets(raw, name).values()), [])
    else:
        rows = list(records(_text(raw, name), name, ","))
    endless = next((line for line, cells in rows if any(len(cell) > LONGEST for cell in cells)), 0)
    if endless:
        raise unreadable(name, f"cells of at most {LONGEST:,} characters", endless)
    return [(line, [cell.strip() for cell in cells]) for line, cells in rows if cells]


def _text(raw: bytes, name: str) -> str:
    try:
        return raw.decode("utf-8-sig")
    except UnicodeDecodeError:
        raise unreadable(name, "text in UTF-8") from None
