"""Spreadsheet workbooks (XLSX, ODS) to rows of text, by python-calamine, in a separate process (`workbook_process`).

Both forms are zip archives of XML. The XML is checked first (`workbook_check`), because the reader never returns from
some damaged files, and counts cells with errors as empty.
"""

from __future__ import annotations

import io
import re
import zipfile
import zlib
from collections.abc import Sequence
from datetime import date, datetime, time
from decimal import Decimal
from typing import TYPE_CHECKING
from xml.parsers import expat

from desk.tables.decoding import without_controls
from desk.tables.faults_found import unreadable
from desk.tables.watch import UNWATCHED, WHOLE, Watch
from desk.tables.workbook_check import SheetCheck, check_workbook

if TYPE_CHECKING:
    from python_calamine import CalamineWorkbook

EXACT = 2**53  # above it a number cell loses some of the digits typed
ROUNDED = "\u2248"  # put before such a number to mark it as inexact


def sheets_of_workbook(raw: bytes, file: str, watch: Watch = UNWATCHED) -> dict[str, list[tuple[int, list[str]]]]:
    """Return the sheets that hold cells, by name: each row with its number in the sheet.

    Unreadable when it is no workbook, or a damaged or oversized one; Stopped when the watch canceled it.
    """
    from python_calamine import CalamineError, CalamineWorkbook

    try:
        checked = check_workbook(raw, file, watch.part(0, 500))
        book = CalamineWorkbook.from_filelike(io.BytesIO(raw))
        return _sheets_of(book, _by_sheet(raw, book.sheet_names, checked), watch.part(500, WHOLE))
    except (
        CalamineError,
        OSError,
        ValueError,
        LookupError,
        RuntimeError,
        zipfile.BadZipFile,
        zlib.error,
        expat.ExpatError,
    ):
        raise unreadable(file, "an undamaged workbook (XLSX or ODS); open it and save it again") from None


def _by_sheet(raw: bytes, names: list[str], checked: dict[str, SheetCheck]) -> dict[str, SheetCheck]:
    """Return the checks by sheet name; an XLSX numbers its sheets' parts in the order of its relations."""
    with zipfile.ZipFile(io.BytesIO(raw)) as archive:
        if "xl/workbook.xml" not in archive.namelist():
            return checked  # an ODS has all sheets in one part, and they are checked by name
        book = archive.read("xl/workbook.xml").decode("utf-8", "replace")
        relations = archive.read("xl/_rels/workbook.xml.rels").decode("utf-8", "replace")
    ids = re.findall(r"<(?:\w+:)?sheet\s[^>]*?\bname=\"[^\"]*\"[^>]*?r:id=\"([^\"]+)\"", book)
    targets = {
        _attribute(relation, "Id"): _attribute(relation, "Target")
        for relation in re.findall(r"<Relationship\s[^>]*>", relations)
    }
    parts = [f"xl/{targets.get(one, '').removeprefix('/xl/')}" for one in ids]
    return {name: checked[part] for name, part in zip(names, parts, strict=False) if part in checked}


def _attribute(element: str, name: str) -> str:
    match = re.search(rf'\b{name}="([^"]*)"', element)
    return match[1] if match else ""


def _sheets_of(
    book: CalamineWorkbook, checked: dict[str, SheetCheck], watch: Watch
) -> dict[str, list[tuple[int, list[str]]]]:
    names = book.sheet_names
    parts = [WHOLE * place // len(names) for place in range(len(names) + 1)]
    each = zip(names, parts, parts[1:], strict=False)
    return {
        name: rows
        for name, first, last in each
        if (rows := _filled(book, name, checked.get(name), watch.part(first, last)))
    }


def _filled(book: CalamineWorkbook, name: str, checked: SheetCheck | None, watch: Watch) -> list[tuple[int, list[str]]]:
    """Return the rows of a sheet with their numbers; none if no cell is filled, or it has no cells."""
    from python_calamine import SheetTypeEnum

    if any(sheet.name == name and sheet.typ != SheetTypeEnum.WorkSheet for sheet in book.sheets_metadata):
        return []  # a chart on its own sheet
    sheet = book.get_sheet_by_name(name)
    rows = [_texts(row) for row in watch.over(sheet.to_python(skip_empty_area=True))]
    top, left = sheet.start or (0, 0)
    for (row, column), words in (checked.errors if checked else {}).items():
        if 0 <= row - top < len(rows) and 0 <= column - left < len(rows[row - top]):
            rows[row - top][column - left] = words  # reported like any text that cannot be read, never taken for empty
    return list(enumerate(rows, start=1 + top)) if any(map(any, rows)) else []


def _texts(row: Sequence[object]) -> list[str]:
    """Return the texts of a row; control characters are looked for in all of it at once, which takes half the time."""
    texts = [cell if type(cell) is str else cell_text(cell) for cell in row]
    joined = "".join(texts)
    return texts if joined.isprintable() or without_controls(joined) == joined else [*map(without_controls, texts)]


def _number_text(number: float) -> str:
    """Return a number in plain decimals. A spreadsheet keeps 15 digits; more is binary rounding noise."""
    text = f"{number:.15g}"
    plain = f"{Decimal(text):f}" if "e" in text else text
    return f"{ROUNDED}{plain}" if abs(number) > EXACT else plain


def cell_text(cell: object) -> str:
    """Return the text of a cell as a table would have it: ISO dates, plain decimals of 15 digits, yes and no."""
    if isinstance(cell, float):
        return _number_text(cell)
    if isinstance(cell, str):
        return without_controls(cell)
    if isinstance(cell, bool):
        return "yes" if cell else "no"
    if isinstance(cell, datetime):
        return cell.date().isoformat() if cell.time() == time() else cell.isoformat(sep=" ")
    return cell.isoformat() if isinstance(cell, date | time) else str(cell)
