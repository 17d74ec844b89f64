"""Workbooks that would crash the program are refused before they are read; error cells never count as empty."""

from __future__ import annotations

import io
import os
import zipfile
from pathlib import Path

import pytest
import xlsxwriter

from desk.domain.faults import Unreadable
from desk.intake.columns.sheet import read_sheet
from desk.intake.order_headers.rules import known_order_headers
from desk.tables.files import read_bytes
from desk.tables.watch import Stopped, Watch
from desk.tables.workbook import workbook_sheets
from desk.tables.workbook_check import MOST_COLUMNS, MOST_ROWS
from tests.intake.tables import _ODS, ods, put, read_list, xlsx

HEADER = ["order", "recipient", "country", "item", "quantity", "unit_price"]


def changed(raw: bytes, part: str, old: str, new: str) -> bytes:
    """Return the workbook with a text of one part replaced."""
    out = io.BytesIO()
    with zipfile.ZipFile(io.BytesIO(raw)) as book, zipfile.ZipFile(out, "w", zipfile.ZIP_DEFLATED) as copy:
        for name in book.namelist():
            content = book.read(name)
            if name == part:
                assert old.encode() in content
                content = content.replace(old.encode(), new.encode())
            copy.writestr(name, content)
    return out.getvalue()


def with_ods_rows(rows: str) -> bytes:
    return changed(ods([["order"], ["x"]]), "content.xml", "<table:table-row>", "<!-- -->" + rows + "<table:table-row>")


def refusal(folder: Path, raw: bytes) -> str:
    with pytest.raises(Unreadable) as caught:
        read_sheet(put(folder, "book.xlsx", raw))
    return str(caught.value)


@pytest.mark.parametrize(
    ("cell", "expected"),
    [
        ("XFD2", "at most 1,000 columns"),
        ("A1048576", "at most 200,000 rows"),
        ("A200001", "at most 200,000 rows"),
        ("200001", "cells inside the sheet"),
        ("XFD1048576", "at most"),
        ("ALL10001", "at most 10,000,000 cells"),
        ("5", "cells inside the sheet"),  # as only a row is named
        ("??", "cells inside the sheet"),
    ],
)
@pytest.mark.usefixtures("process")
def test_a_cell_far_outside_is_refused_before_memory_is_allocated(tmp_path: Path, cell: str, expected: str) -> None:
    raw = changed(xlsx([HEADER, ["1"]]), "xl/worksheets/sheet1.xml", 'r="A2"', f'r="{cell}"')
    assert expected in refusal(tmp_path, raw)


@pytest.mark.parametrize("row", [199_999, 200_000])
@pytest.mark.usefixtures("process")
def test_a_cell_in_the_last_rows_allowed_is_read(tmp_path: Path, row: int) -> None:
    raw = changed(xlsx([HEADER, ["1"]]), "xl/worksheets/sheet1.xml", 'r="A2"', f'r="A{row}"')
    raw = changed(raw, "xl/worksheets/sheet1.xml", 'r="2"', f'r="{row}"')
    assert [line for line, _ in read_sheet(put(tmp_path, "book.xlsx", raw)).rows] == [row]


@pytest.mark.parametrize(("count", "is_refused"), [(MOST_COLUMNS, False), (MOST_COLUMNS + 1, True)])
@pytest.mark.usefixtures("process")
def test_a_sheet_has_a_maximum_of_columns(tmp_path: Path, count: int, is_refused: bool) -> None:
    raw = xlsx([["order", *map(str, range(1, count))], ["1"] * count])
    if is_refused:
        assert "at most 1,000 columns" in refusal(tmp_path, raw)
    else:
        assert len(read_sheet(put(tmp_path, "book.xlsx", raw)).header) == count


@pytest.mark.parametrize(
    "rows",
    [
        f'<table:table-row table:number-rows-repeated="{2**31}"><table:table-cell office:value-type="string"><text:p>x</text:p></table:table-cell></table:table-row>',
        f'<table:table-row><table:table-cell office:value-type="string" table:number-columns-repeated="{MOST_COLUMNS + 1}"><text:p>x</text:p></table:table-cell></table:table-row>',
        '<table:table-row><table:table-cell office:value-type="string"><text:p><text:s text:c="1000000000"/></text:p></table:table-cell></table:table-row>',
    ],
)  # fmt: skip
@pytest.mark.usefixtures("process")
def test_endlessly_repeated_cells_are_refused(tmp_path: Path, rows: str) -> None:
    assert "expected" in refusal(tmp_path, with_ods_rows(rows))


@pytest.mark.usefixtures("process")
def test_empty_rows_repeated_to_the_end_of_the_sheet_are_accepted(tmp_path: Path) -> None:
    tail = f'<table:table-row table:number-rows-repeated="{1_048_000}"><table:table-cell table:number-columns-repeated="16384"/></table:table-row>'
    raw = changed(ods([["order", "item"], ["1", "Pen"]]), "content.xml", "</table:table>", tail + "</table:table>")
    assert len(read_sheet(put(tmp_path, "book.ods", raw)).rows) == 1
    assert "table:table-row" not in _ODS.format(rows="")


@pytest.mark.usefixtures("process")
def test_error_cells_and_formulas_without_a_value_are_issues_and_not_empty(tmp_path: Path) -> None:
    buffer = io.BytesIO()
    book = xlsxwriter.Workbook(buffer)
    sheet = book.add_worksheet()
    sheet.write_row(0, 0, HEADER)
    sheet.write_row(1, 0, ["1001", "Ada", "US", "Pen"])
    sheet.write_formula(1, 4, "=NA()", None, "#N/A")
    sheet.write_row(2, 0, ["1002", "Bo", "US", "Ink", 3])
    sheet.write_formula(2, 5, "=1+1", None, "")
    book.close()
    raw = changed(buffer.getvalue(), "xl/worksheets/sheet1.xml", "<f>1+1</f><v></v>", "<f>1+1</f>")
    first, second = read_list(put(tmp_path, "book.xlsx", raw)).orders
    assert [(one.code, one.facts["column"], one.facts["found"]) for one in first.findings] == [
        ("cell-not-read", "quantity", "#N/A")
    ]
    assert [(one.code, one.facts["column"], one.facts["found"]) for one in second.findings] == [
        ("cell-not-read", "unit_price", "#NO VALUE")
    ]


ODS_ERRORS = {
    "#ERROR": '<table:table-cell table:formula="of:=1/0" office:value-type="float" office:value="0" calcext:value-type="error"/>',
    "#N/A": '<table:table-cell table:formula="of:=NA()" office:value-type="string" office:string-value=""><text:p>#N/A</text:p></table:table-cell>',
    "Err:502": '<table:table-cell table:formula="of:=X()" office:value-type="float" office:value="0"><text:p>Err:502</text:p></table:table-cell>',
    "#NO VALUE": '<table:table-cell table:formula="of:=1+1"/>',
}  # fmt: skip


@pytest.mark.parametrize("found", ODS_ERRORS)
@pytest.mark.usefixtures("process")
def test_an_error_in_an_ods_cell_is_an_issue_and_not_empty(tmp_path: Path, found: str) -> None:
    """The cells as OpenDocument 1.3, part 3, 19.629 and 19.385, and its calcext extension write them."""
    rows = [[*HEADER[:4], "placed", "quantity"], ["1001", "Ada", "US", "Pen", "", "QUANTITY"]]
    gap = '<table:table-row table:number-rows-repeated="3"><table:table-cell table:number-columns-repeated="9"/></table:table-row>'
    raw = changed(
        ods(rows),
        "content.xml",
        '<table:table-cell office:value-type="string"><text:p>QUANTITY</text:p></table:table-cell>',
        ODS_ERRORS[found],
    )
    raw = changed(raw, "content.xml", "<table:table-row>", gap + "<table:table-row>")
    raw = changed(raw, "content.xml", "xmlns:text=", 'xmlns:calcext="urn:calcext" xmlns:text=')
    (order,) = read_list(put(tmp_path, "book.ods", raw)).orders
    assert [(one.code, one.facts["column"], one.facts["found"]) for one in order.findings] == [
        ("cell-not-read", "quantity", found)
    ]


@pytest.mark.usefixtures("process")
def test_a_formula_whose_result_is_an_empty_text_is_empty(tmp_path: Path) -> None:
    cell = '<table:table-cell table:formula="of:=&quot;&quot;" office:value-type="string" office:string-value=""/>'
    rows = [[*HEADER[:4], "quantity"], ["1001", "Ada", "US", "Pen", "QUANTITY"]]
    typed = '<table:table-cell office:value-type="string"><text:p>QUANTITY</text:p></table:table-cell>'
    (order,) = read_list(put(tmp_path, "book.ods", changed(ods(rows), "content.xml", typed, cell))).orders
    assert order.findings == ()


def test_a_workbook_over_the_memory_or_time_limit_is_refused_with_a_sentence() -> None:
    raw = xlsx([HEADER, *([str(n), "Ada", "US", "Pen", 1, 2] for n in range(20_000))])
    for limits in ({"memory": 20_000_000}, {"seconds": 0}):
        with pytest.raises(Unreadable, match="takes too long or needs too much memory"):
            workbook_sheets(raw, "a.xlsx", **limits)
    assert len(workbook_sheets(raw, "a.xlsx")["Sheet1"]) == 20_001


def test_canceling_a_workbook_ends_its_process() -> None:
    before = set(children())
    with pytest.raises(Stopped):
        workbook_sheets(xlsx([HEADER, *([str(n)] for n in range(20_000))]), "a.xlsx", Watch(canceled=lambda: True))
    assert set(children()) <= before


def children() -> list[str]:
    """Return the processes started by this one that are still running (Linux)."""
    return Path(f"/proc/self/task/{os.getpid()}/children").read_text(encoding="ascii").split()


@pytest.mark.parametrize(("number", "is_refused"), [(2**53, False), (2**53 + 2, True), (1234567890123456789, True)])
@pytest.mark.usefixtures("process")
def test_an_order_number_too_long_for_a_number_cell_is_refused(tmp_path: Path, number: int, is_refused: bool) -> None:
    path = put(tmp_path, "book.xlsx", xlsx([HEADER, [number, "Ada", "US", "Pen", 1, 2]]))
    if is_refused:
        with pytest.raises(Unreadable, match="format the column as text"):
            read_list(path)
    else:
        assert len(read_list(path).orders) == 1


@pytest.mark.parametrize(("count", "is_refused"), [(MOST_ROWS, False), (MOST_ROWS + 1, True)])
def test_a_text_has_a_maximum_of_rows(tmp_path: Path, count: int, is_refused: bool) -> None:
    path = put(tmp_path, "orders.csv", "order\n" + "1\n" * (count - 1))
    if is_refused:
        with pytest.raises(Unreadable, match="at most 200,000 rows"):
            read_sheet(path, known=known_order_headers)
    else:
        assert len(read_sheet(path, known=known_order_headers).rows) == count - 1


def test_a_device_or_a_pipe_is_refused(tmp_path: Path) -> None:
    os.mkfifo(tmp_path / "pipe")
    for path in (tmp_path / "pipe", Path("/dev/zero")):
        with pytest.raises(Unreadable, match="a regular file, but this is a device or a pipe"):
            read_bytes(path)
    (tmp_path / "dangling").symlink_to(tmp_path / "nowhere")
    with pytest.raises(Unreadable, match="there is none with this name"):
        read_bytes(tmp_path / "dangling")
