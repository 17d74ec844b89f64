"""Check a workbook's XML before it is read: how much it unpacks to, how far its cells reach, and which cells are errors.

The reader asks for memory for the whole area, so one cell far away, or one row repeated many times, would use it up.
"""

from __future__ import annotations

import io
import re
import zipfile
from dataclasses import dataclass, field
from xml.parsers import expat

from desk.tables.faults_found import unreadable
from desk.tables.watch import Watch

MOST_UNPACKED = 256 * 1024 * 1024  # bytes; 100,000 rows of 21 columns take 100 MB
MOST_ROWS, MOST_COLUMNS = 200_000, 1_000
MOST_AREA = 10_000_000  # cells from the first to the last filled one: 100,000 rows of 100 columns
MOST_BLANKS = 10_000  # blanks that one element of an ODS text may represent
_ONE_LETTER = 26  # columns whose name is one letter: never too many
NO_VALUE = "#NO VALUE"  # in the place of a formula whose result was not saved
_PIECE = 1 << 20  # bytes of XML between checks for cancellation
_LONG_ERROR = 20  # characters
_ODS_CELLS = "content.xml"
_XLSX_SHEET = re.compile(r"xl/worksheets/[^/]+\.xml")
# Patterns that begin with plain bytes, which are searched ten times as fast as a choice. A tag that closes itself is empty.
_WIDE = re.compile(rb' r="([A-Z]{2,3})[0-9]{1,7}"[^>/]*>')
_ROWS = re.compile(rb' r="[A-Z]{0,3}([0-9]{1,7})"[^>/]*>')
# A cell or row that is not in columns A to Z of the first 199,999 rows: without one, a sheet is within every limit.
_UNUSUAL = re.compile(rb' r="(?!(?:[A-Z]|(?<!<c r="))(?:1[0-9]{5}|[0-9]{1,5})")')
_OUTSIDE = re.compile(rb'<c r="(?![A-Z]{1,3}[0-9]{1,7}")([^"]*)"')
_FORMULA = rb"<(?:\w+:)?f\b(?:[^>]*/>|[^>]*>[^<]*</(?:\w+:)?f>)\s*"
_ERROR_CELL = re.compile(
    rb'<(?:\w+:)?c\s(?=[^>]*\bt="e")[^>]*?\br="([A-Z]{1,3})([0-9]{1,7})"[^>/]*>\s*(?:'
    + _FORMULA
    + rb")?<(?:\w+:)?v>([^<]*)<"
)
_NO_RESULT = re.compile(
    rb'<(?:\w+:)?c\s[^>]*?\br="([A-Z]{1,3})([0-9]{1,7})"[^>/]*>\s*' + _FORMULA
    + rb"(?:<(?:\w+:)?v\s*/>\s*|<(?:\w+:)?v>\s*</(?:\w+:)?v>\s*)?</(?:\w+:)?c>"
)  # fmt: skip
_ERROR_TEXT = re.compile(r"#(?:N/A|DIV/0!|VALUE!|REF!|NAME\?|NUM!|NULL!)|Err:[0-9]{3}")
Place = tuple[int, int]  # row and column, from 0


@dataclass(slots=True)
class SheetCheck:
    """One sheet: its error cells by position, and how far its cells reach (0 in an XLSX without unusual ones)."""

    errors: dict[Place, str] = field(default_factory=dict)
    rows: int = 0
    columns: int = 0

    def reach(self, rows: int, columns: int, file: str) -> None:
        """Extend the filled area to that many rows and columns. Unreadable beyond the limits."""
        self.rows, self.columns = max(self.rows, rows), max(self.columns, columns)
        if self.rows > MOST_ROWS:
            raise unreadable(file, f"at most {MOST_ROWS:,} rows")
        if self.columns > MOST_COLUMNS:
            raise unreadable(file, f"at most {MOST_COLUMNS:,} columns")
        if self.rows * self.columns > MOST_AREA:
            raise unreadable(file, f"at most {MOST_AREA:,} cells between the first and the last one")


def check_workbook(raw: bytes, file: str, watch: Watch) -> dict[str, SheetCheck]:
    """Return the check of each sheet: by its part in an XLSX, by its name in an ODS.

    Unreadable for one too large; the errors of zip and XML as they come.
    """
    checks: dict[str, SheetCheck] = {}
    with zipfile.ZipFile(io.BytesIO(raw)) as archive:
        if sum(part.file_size for part in archive.infolist()) > MOST_UNPACKED:
            raise unreadable(file, "a workbook of at most 256 MB when unpacked")
        parts = [part for part in archive.infolist() if part.filename.endswith(".xml")]
        done, of = 0, sum(part.file_size for part in parts)
        for part in parts:
            xml = archive.read(part)
            sheets = _OdsSheets(file) if part.filename == _ODS_CELLS else None
            parser = sheets.parser if sheets else expat.ParserCreate()
            parser.StartDoctypeDeclHandler = _refuse_entities
            for at in range(0, len(xml) or 1, _PIECE):
                watch.at(done + at, of)
                parser.Parse(xml[at : at + _PIECE], at + _PIECE >= len(xml))
            if sheets:
                checks |= sheets.found
            elif _XLSX_SHEET.fullmatch(part.filename):
                checks[part.filename] = _xlsx_sheet(xml, file)
            done += part.file_size
    return checks


def _xlsx_sheet(xml: bytes, file: str) -> SheetCheck:
    """Return what a sheet of an XLSX holds. By patterns, because a call for each of two million cells takes six seconds."""
    sheet = SheetCheck()
    if _UNUSUAL.search(xml):
        if outside := _OUTSIDE.search(xml):
            expected = f"cells inside the sheet, not {outside[1][:20].decode('utf-8', 'replace')!r}"
            raise unreadable(file, expected)
        columns = max((_column(letters) + 1 for letters in set(_WIDE.findall(xml))), default=_ONE_LETTER)
        sheet.reach(max(map(int, set(_ROWS.findall(xml))), default=0), columns, file)
    if b"<f" in xml or b":f" in xml or b't="e"' in xml:
        for letters, number, value in _ERROR_CELL.findall(xml):
            sheet.errors[int(number) - 1, _column(letters)] = value.decode("utf-8", "replace")[:_LONG_ERROR]
        for letters, number in _NO_RESULT.findall(xml):
            sheet.errors[int(number) - 1, _column(letters)] = NO_VALUE
    return sheet


class _OdsSheets:
    """Follows the cells of an ODS, where one element may represent many rows or columns."""

    def __init__(self, file: str) -> None:
        self.file, self.found = file, dict[str, SheetCheck]()
        self.parser = expat.ParserCreate()
        self.parser.StartElementHandler = self._start
        self.parser.EndElementHandler = self._end
        self._sheet = SheetCheck()
        self._depth = 0  # tables inside tables are no sheets
        self._row, self._column = 0, 0
        self._repeated = 1  # rows that the open row represents
        self._filled = 0  # columns up to the last filled cell of the open row
        self._formula: Place | None = None  # where the open cell with a formula is
        self._text = ""

    def _start(self, name: str, attributes: dict[str, str]) -> None:
        local = name.rpartition(":")[2]
        if local == "table":
            self._depth += 1
            if self._depth == 1:
                sheet = attributes.get("table:name", "")
                self._sheet = self.found[sheet] = SheetCheck()
                self._row = 0
        elif self._depth != 1:
            return
        elif local == "table-row":
            self._repeated, self._column, self._filled = _count(attributes, "number-rows-repeated"), 0, 0
        elif local in ("table-cell", "covered-table-cell"):
            self._cell(attributes)
        elif name == "text:s" and _count(attributes, "c") > MOST_BLANKS:
            raise unreadable(self.file, f"cells with at most {MOST_BLANKS:,} blanks in a row")

    def _cell(self, attributes: dict[str, str]) -> None:
        place, count = (self._row, self._column), _count(attributes, "number-columns-repeated")
        kinds = {value for key, value in attributes.items() if key.endswith("value-type")}
        has_formula = any(key.endswith(":formula") for key in attributes)
        self._column += count
        if kinds or has_formula:
            self._filled = self._column
            self._sheet.reach(self._row + 1, self._filled, self.file)
        if "error" in kinds or (has_formula and not kinds):
            self._sheet.errors[place] = "#ERROR" if kinds else NO_VALUE
        if has_formula:
            self._formula, self._text = place, ""
            self.parser.CharacterDataHandler = self._read_text

    def _read_text(self, text: str) -> None:
        self._text = (self._text + text)[:_LONG_ERROR]

    def _end(self, name: str) -> None:
        local = name.rpartition(":")[2]
        if local == "table":
            self._depth -= 1
        elif local == "table-row" and self._depth == 1:
            if self._filled:
                self._sheet.reach(self._row + self._repeated, self._filled, self.file)
            self._row += self._repeated
        elif local == "table-cell" and self._formula is not None:
            if _ERROR_TEXT.fullmatch(self._text.strip()):
                self._sheet.errors[self._formula] = self._text.strip()
            self._formula = None
            self.parser.CharacterDataHandler = None


def _count(attributes: dict[str, str], name: str) -> int:
    text = next((value for key, value in attributes.items() if key.rpartition(":")[2] == name), "1")
    return int(text) if text.isascii() and text.isdecimal() and len(text) < 12 else MOST_ROWS + 1


def _column(letters: bytes) -> int:
    number = 0
    for letter in letters:
        number = number * 26 + letter - 64
    return number - 1


def _refuse_entities(*_declared: object) -> None:
    raise ValueError("a document type, which no workbook has")
