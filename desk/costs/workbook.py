"""Write workbooks (XLSX) of plain tables, with a first sheet that explains every column."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from datetime import date
from decimal import Decimal
from io import BytesIO
from pathlib import Path
from typing import Any  # XlsxWriter has no types

from desk.domain.whole_file import write_whole

WIDTH = 18  # characters


@dataclass(frozen=True, slots=True)
class BookColumn:
    """The header of a column and its meaning."""

    header: str
    meaning: str


@dataclass(frozen=True, slots=True)
class BookSheet:
    """A table: its name, its columns, and rows of text, whole numbers, decimals or dates."""

    name: str
    columns: Sequence[BookColumn]
    rows: Sequence[Sequence[object]]


def write_workbook(
    file: Path,
    sheets: Sequence[BookSheet],
    progress: Callable[[int, int], None] = lambda _done, _of: None,
    canceled: Callable[[], bool] = lambda: False,
) -> bool:
    """Write the sheets, with a sheet that explains them. Return False when canceled. Raises OSError when it cannot
    write. `progress` gets how many rows are written, of how many.

    Texts are written as text: a formula in a buyer's name stays text. The file is complete or does not exist.
    """
    from xlsxwriter import Workbook  # 40 ms to load, which a start would wait for

    options = {"strings_to_formulas": False, "strings_to_urls": False, "strings_to_numbers": False}
    packed = BytesIO()
    with Workbook(packed, options | {"constant_memory": True}) as book:
        formats = {"bold": book.add_format({"bold": True}), "date": book.add_format({"num_format": "yyyy-mm-dd"})}
        formats["money"] = book.add_format({"num_format": "#,##0.00"})
        _explain(book, sheets, formats)
        watch = _Watch(sum(len(sheet.rows) for sheet in sheets), progress, canceled)
        finished = all(_write(book, sheet, formats, watch) for sheet in sheets)
    if finished:
        write_whole(file, packed.getvalue())
        watch.end()
    return finished


class _Watch:
    """Counts rows, reports every thousandth and the end, and asks whether to go on."""

    def __init__(self, of: int, progress: Callable[[int, int], None], canceled: Callable[[], bool]) -> None:
        self._done, self._of, self._progress, self._canceled = 0, of, progress, canceled

    def goes_on(self) -> bool:
        """Count one row; return False when the work was canceled."""
        self._done += 1
        if self._done % 1000:
            return True
        self._progress(self._done, self._of)
        return not self._canceled()

    def end(self) -> None:
        """Report that all rows are written."""
        self._progress(self._of, self._of)


def _explain(book: Any, sheets: Sequence[BookSheet], formats: dict[str, Any]) -> None:
    page = book.add_worksheet("Columns")
    page.set_column(0, 1, WIDTH)
    page.set_column(2, 2, 90)
    page.write_row(0, 0, ["Sheet", "Column", "What it is"], formats["bold"])
    lines = [(sheet.name, column.header, column.meaning) for sheet in sheets for column in sheet.columns]
    for number, line in enumerate(lines, 1):
        page.write_row(number, 0, line)


def _write(book: Any, sheet: BookSheet, formats: dict[str, Any], watch: _Watch) -> bool:
    page = book.add_worksheet(sheet.name)
    page.set_column(0, len(sheet.columns) - 1, WIDTH)
    page.freeze_panes(1, 0)
    page.write_row(0, 0, [column.header for column in sheet.columns], formats["bold"])
    for number, row in enumerate(sheet.rows, 1):
        if not watch.goes_on():
            return False
        for place, value in enumerate(row):
            _cell(page, number, place, value, formats)
    return True


def _cell(page: Any, row: int, column: int, value: object, formats: dict[str, Any]) -> None:
    if isinstance(value, Decimal):
        page.write_number(row, column, float(value), formats["money"])
    elif isinstance(value, date):
        page.write_datetime(row, column, value, formats["date"])
    elif isinstance(value, int):
        page.write_number(row, column, value)
    else:
        page.write_string(row, column, str(value))
