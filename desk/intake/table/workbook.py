"""Spreadsheet workbooks (XLSX, ODS) to rows of text, by python-calamine.

Both forms are zip archives of XML. The XML is looked over before it is handed on: the reader does not come back
from some that is damaged, and a small archive may unpack to more than a machine holds.
"""

from __future__ import annotations

import io
import zipfile
import zlib
from datetime import date, datetime, time
from decimal import Decimal
from typing import TYPE_CHECKING
from xml.parsers import expat

from desk.intake.table.decoding import without_controls
from desk.intake.table.faults_found import unreadable
from desk.intake.table.watch import UNWATCHED, WHOLE, Watch

if TYPE_CHECKING:
    from python_calamine import CalamineWorkbook

ARCHIVE = b"PK\x03\x04"
OLDER_FORM = b"\xd0\xcf\x11\xe0"  # binary workbooks from before the two open forms
_PIECE = 1 << 17  # bytes of XML between two looks up: about a thousand rows
MOST_UNPACKED = 256 * 1024 * 1024  # bytes; ours: many times an order list of 10,000 rows


def is_workbook(raw: bytes) -> bool:
    """True when the bytes begin like a workbook, whatever the file is called."""
    return raw.startswith((ARCHIVE, OLDER_FORM))


def workbook_sheets(raw: bytes, file: str, watch: Watch = UNWATCHED) -> dict[str, list[tuple[int, list[str]]]]:
    """The sheets that hold cells, by name: each row with its number in the sheet.

    Unreadable when it is no workbook, a damaged or a monstrous one; Stopped when it is wanted no more.
    """
    from python_calamine import CalamineError, CalamineWorkbook

    if raw.startswith(OLDER_FORM):
        raise unreadable(file, "a workbook saved as XLSX or ODS; this one is in an older form")
    try:
        _look_over(raw, file, watch.part(0, 300))
        book = CalamineWorkbook.from_filelike(io.BytesIO(raw))
        return _sheets_of(book, watch.part(300, WHOLE))
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
        raise unreadable(file, "a workbook (XLSX or ODS) that is whole; open it and save it again") from None


def _sheets_of(book: CalamineWorkbook, watch: Watch) -> dict[str, list[tuple[int, list[str]]]]:
    names = book.sheet_names
    parts = [WHOLE * place // len(names) for place in range(len(names) + 1)]
    each = zip(names, parts, parts[1:], strict=False)
    return {name: rows for name, first, last in each if (rows := _filled(book, name, watch.part(first, last)))}


def _filled(book: CalamineWorkbook, name: str, watch: Watch) -> list[tuple[int, list[str]]]:
    """The rows of a sheet with their numbers; none when no cell is filled, or it is no sheet of cells."""
    from python_calamine import SheetTypeEnum

    if any(sheet.name == name and sheet.typ != SheetTypeEnum.WorkSheet for sheet in book.sheets_metadata):
        return []  # a chart on a sheet of its own
    sheet = book.get_sheet_by_name(name)
    rows = [[cell_text(cell) for cell in row] for row in watch.over(sheet.to_python(skip_empty_area=True))]
    return list(enumerate(rows, start=1 + (sheet.start or (0, 0))[0])) if any(map(any, rows)) else []


def _look_over(raw: bytes, file: str, watch: Watch) -> None:
    """Unpack nothing too large, and see that every XML part is well formed and declares no entities."""
    with zipfile.ZipFile(io.BytesIO(raw)) as archive:
        if sum(part.file_size for part in archive.infolist()) > MOST_UNPACKED:
            raise unreadable(file, "a workbook of at most 256 MB when unpacked")
        parts = [part for part in archive.infolist() if part.filename.endswith(".xml")]
        done, of = 0, sum(part.file_size for part in parts)
        for part in parts:
            parser = expat.ParserCreate()
            parser.StartDoctypeDeclHandler = _refuse_entities
            with archive.open(part) as xml:
                while piece := xml.read(_PIECE):
                    watch.at(done, of)
                    parser.Parse(piece, False)
                    done += len(piece)
            parser.Parse(b"", True)


def _refuse_entities(*_declared: object) -> None:
    raise ValueError("a document type, which no workbook has")


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
