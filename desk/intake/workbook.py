"""Spreadsheet workbooks (XLSX, ODS) to rows of text, by python-calamine. The first sheet with cells is read."""

from __future__ import annotations

import io
from datetime import date, datetime, time
from decimal import Decimal

from desk.intake.decoding import without_controls
from desk.intake.faults_found import unreadable

SIGNATURES = (b"PK\x03\x04", b"\xd0\xcf\x11\xe0")  # a zip (XLSX, ODS), and the older binary workbook


def is_workbook(raw: bytes) -> bool:
    """True when the bytes begin like a workbook, whatever the file is called."""
    return raw.startswith(SIGNATURES)


def workbook_records(raw: bytes, file: str) -> list[tuple[int, list[str]]]:
    """Each row with its number in the sheet; Unreadable when it is no workbook, or a damaged one."""
    from python_calamine import CalamineError, CalamineWorkbook

    try:
        book = CalamineWorkbook.from_filelike(io.BytesIO(raw))
        for name in book.sheet_names:
            sheet = book.get_sheet_by_name(name)
            rows = [[cell_text(cell) for cell in row] for row in sheet.to_python(skip_empty_area=True)]
            if any(any(row) for row in rows):
                return list(enumerate(rows, start=1 + (sheet.start or (0, 0))[0]))
    except (CalamineError, OSError, ValueError):
        raise unreadable(file, "a workbook (XLSX or ODS) that is whole; open it and save it again") from None
    return []


def cell_text(cell: object) -> str:
    """The text of a cell as a table would hold it: ISO dates, plain decimals of 15 digits, yes and no."""
    if isinstance(cell, str):
        return without_controls(cell)
    if isinstance(cell, bool):
        return "yes" if cell else "no"
    if isinstance(cell, float):
        return f"{Decimal(f'{cell:.15g}'):f}"  # a spreadsheet keeps 15 digits; more is the noise of binary numbers
    if isinstance(cell, datetime):
        return cell.date().isoformat() if cell.time() == time() else cell.isoformat(sep=" ")
    return cell.isoformat() if isinstance(cell, date | time) else str(cell)
