"""Check a workbook's XML before reading it: unpacked size, area of its sheets, and error cells.

The reader allocates the whole area, so one distant cell, or one row repeated many times, could end the program.
"""

from __future__ import annotations

import io
import re
import zipfile
from dataclasses import dataclass, field
from xml.parsers import expat

from desk.intake.table.faults_found import unreadable
from desk.intake.table.watch import Watch

MOST_UNPACKED = 256 * 1024 * 1024  # bytes; many times an order list of 10,000 rows
MOST_ROWS, MOST_COLUMNS = 200_000, 1_000
MOST_AREA = 10_000_000  # cells from the first to the last filled one: 100,000 rows of 100 columns
MOST_BLANKS = 10_000  # blanks that one element of an ODS text may represent
_PIECE = 1 << 17  # bytes of XML between checks for cancellation
_CELL = re.compile(r"([A-Z]{1,3})([0-9]{1,7})")
Place = tuple[int, int]  # row and column, from 0


@dataclass(slots=True)
class SheetCheck:
    """One part of the workbook: its error cells by position, and the extent of its filled cells."""

    errors: dict[Place, str] = field(default_factory=dict)
    rows: int = 0
    columns: int = 0


def check_workbook(raw: bytes, file: str, watch: Watch) -> dict[str, SheetCheck]:
    """Return the check of each part, by name. Raises Unreadable for a workbook too large, and errors of zip and XML."""
    found = {}
    with zipfile.ZipFile(io.BytesIO(raw)) as archive:
        if sum(part.file_size for part in archive.infolist()) > MOST_UNPACKED:
            raise unreadable(file, "a workbook of at most 256 MB when unpacked")
        parts = [part for part in archive.infolist() if part.filename.endswith(".xml")]
        done, of = 0, sum(part.file_size for part in parts)
        for part in parts:
            checker = _Checker(file)
            with archive.open(part) as xml:
                while piece := xml.read(_PIECE):
                    watch.at(done, of)
                    checker.parser.Parse(piece, False)
                    done += len(piece)
            checker.parser.Parse(b"", True)
            found[part.filename] = checker.sheet
    return found


class _Checker:
    """Follows the XML of one part."""

    def __init__(self, file: str) -> None:
        self.file, self.sheet = file, SheetCheck()
        self.parser = expat.ParserCreate()
        self.parser.StartDoctypeDeclHandler = _refuse_entities
        self.parser.StartElementHandler = self._start
        self.parser.EndElementHandler = self._end
        self._cell: Place | None = None
        self._kind, self._has_formula, self._has_value = "", False, False
        self._repeated = 1  # rows that an ODS row represents
        self._row_columns = 0

    def _start(self, name: str, attributes: dict[str, str]) -> None:
        local = name.rpartition(":")[2]
        if name == "c" and "r" in attributes:
            self._open_cell(attributes)
        elif name == "f":
            self._has_formula = True
        elif name in ("v", "is"):
            self._has_value = True
        elif local == "table-row":
            self._repeated, self._row_columns = _count(attributes, "number-rows-repeated"), 0
        elif local == "table-cell":
            self._ods_cell(attributes)
        elif name == "text:s" and _count(attributes, "c") > MOST_BLANKS:
            raise unreadable(self.file, f"cells with at most {MOST_BLANKS:,} blanks in a row")

    def _open_cell(self, attributes: dict[str, str]) -> None:
        place = _CELL.fullmatch(attributes["r"])
        if place is None:
            raise unreadable(self.file, f"cells inside the sheet, not {attributes['r'][:20]!r}")
        self._cell = (int(place[2]) - 1, _column(place[1]))
        self._kind, self._has_formula, self._has_value = attributes.get("t", ""), False, False

    def _end(self, name: str) -> None:
        local = name.rpartition(":")[2]
        if name == "c" and self._cell is not None:
            if self._kind == "e":
                self.sheet.errors[self._cell] = "#ERROR"
            elif self._has_formula and not self._has_value:
                self.sheet.errors[self._cell] = "#NO VALUE"
            if self._has_value or self._has_formula:
                self._reach(self._cell[0] + 1, self._cell[1] + 1)
            self._cell = None
        elif local == "table-row" and self._row_columns:
            self._reach(self.sheet.rows + self._repeated, self._row_columns)

    def _ods_cell(self, attributes: dict[str, str]) -> None:
        if any(key.endswith("value-type") for key in attributes):
            self._row_columns += _count(attributes, "number-columns-repeated")
            self._reach(self.sheet.rows, self._row_columns)

    def _reach(self, rows: int, columns: int) -> None:
        self.sheet.rows, self.sheet.columns = max(self.sheet.rows, rows), max(self.sheet.columns, columns)
        if self.sheet.rows > MOST_ROWS:
            raise unreadable(self.file, f"at most {MOST_ROWS:,} rows")
        if self.sheet.columns > MOST_COLUMNS:
            raise unreadable(self.file, f"at most {MOST_COLUMNS:,} columns")
        if self.sheet.rows * self.sheet.columns > MOST_AREA:
            raise unreadable(self.file, f"at most {MOST_AREA:,} cells between the first and the last one")


def _count(attributes: dict[str, str], name: str) -> int:
    text = next((value for key, value in attributes.items() if key.rpartition(":")[2] == name), "1")
    return int(text) if text.isascii() and text.isdecimal() and len(text) < 12 else MOST_ROWS + 1


def _column(letters: str) -> int:
    number = 0
    for letter in letters:
        number = number * 26 + ord(letter) - 64
    return number - 1


def _refuse_entities(*_declared: object) -> None:
    raise ValueError("a document type, which no workbook has")
