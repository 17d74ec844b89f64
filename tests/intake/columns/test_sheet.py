from __future__ import annotations

import io
from pathlib import Path

import pytest
import xlsxwriter

from desk.domain.faults import Unreadable
from desk.intake.columns import sheet as sheet_module
from desk.intake.columns.reading import ReadingChoices
from desk.intake.columns.sheet import Row, header_place, read_sheet, read_sheet_text
from desk.intake.order_headers.rules import known_order_headers
from tests.intake.tables import ods, put, sentences, xlsx


def test_titles_blank_lines_and_spaces_around_a_table_are_skipped(tmp_path: Path) -> None:
    sheet = read_sheet(put(tmp_path, "a.csv", "All orders\n\n order ; item ;;\n\n 1 ; Book ;\n;;;\n2;Pen\n"))
    assert sheet.header == ("order", "item")
    assert sheet.header_line == 3
    assert sheet.rows == (Row(5, ("1", "Book", "")), Row(7, ("2", "Pen")))
    assert (sheet.encoding, sheet.delimiter) == ("utf-8", ";")


def test_encoding_and_delimiter_can_be_chosen(tmp_path: Path) -> None:
    path = put(tmp_path, "a.csv", "order,a;item\n1,b;Zoë\n".encode("mac_roman"))
    sheet = read_sheet(path, ReadingChoices(encoding="mac_roman", delimiter=";"))
    assert sheet.header == ("order,a", "item")
    assert sheet.rows == (Row(2, ("1,b", "Zoë")),)


@pytest.mark.parametrize("make", [xlsx, ods])
def test_workbooks_are_recognized_by_their_bytes(tmp_path: Path, make: object) -> None:
    path = put(tmp_path, "orders.csv", make([["order", "item"], ["1", "Book"]]))  # type: ignore[operator]
    sheet = read_sheet(path)
    assert (sheet.header, sheet.rows, sheet.encoding, sheet.delimiter) == (
        ("order", "item"),
        (Row(2, ("1", "Book")),),
        "",
        "",
    )


@pytest.mark.parametrize(
    ("content", "expected"),
    [
        ("", "a.csv: expected a header row and rows below it, but the file is empty"),
        (" \n,,\n", "a.csv: expected a header row and rows below it, but the file is empty"),
        (xlsx([]), "a.csv: expected a header row and rows below it, but the file is empty"),
        ("\norder,item\n", "a.csv: line 2: expected rows below the header, but there are none"),
    ],
)
def test_an_empty_file_is_refused_with_a_sentence(tmp_path: Path, content: str | bytes, expected: str) -> None:
    with pytest.raises(Unreadable) as caught:
        read_sheet(put(tmp_path, "a.csv", content))
    assert sentences(caught, tmp_path) == [expected]


@pytest.mark.parametrize(
    ("rows", "expected"),
    [
        ([["order", "item"], ["1", "2"]], 0),
        ([["Exported", "2026-11-25"], ["order", "item", "city"], ["1", "2", "3"]], 1),
        ([["Unknown list", ""], ["alpha", "beta", "gamma"], ["1", "2", "3"]], 1),
        ([["alpha", "beta", ""], ["1", "2", "3"]], 0),
        ([["alpha"], ["1"]], 0),
    ],
)
def test_the_header_is_found(rows: list[list[str]], expected: int) -> None:
    assert header_place(rows, known_order_headers) == expected


def sheets(**named: list[list[str]]) -> bytes:
    buffer = io.BytesIO()
    book = xlsxwriter.Workbook(buffer)
    for name, rows in named.items():
        page = book.add_worksheet(name)
        for place, row in enumerate(rows):
            page.write_row(place, 0, row)
    book.add_chartsheet("Picture").set_chart(chart := book.add_chart({"type": "line"}))
    chart.add_series({"values": "=Notes!$A$1:$A$2"})
    book.close()
    return buffer.getvalue()


BOOK = {"Empty": [], "Notes": [["read", "me"], ["a", "b"]], "Orders": [["order", "item", "city"], ["1", "Pen", "Bend"]]}


def test_of_several_sheets_the_recognized_one_is_read_and_all_are_named(tmp_path: Path) -> None:
    sheet = read_sheet(put(tmp_path, "a.xlsx", sheets(**BOOK)), known=known_order_headers)
    assert (sheet.sheet, sheet.sheets, sheet.header) == ("Orders", ("Notes", "Orders"), ("order", "item", "city"))


def test_a_sheet_may_be_chosen(tmp_path: Path) -> None:
    path = put(tmp_path, "a.xlsx", sheets(**BOOK))
    assert read_sheet(path, ReadingChoices(sheet="Notes")).rows == (Row(2, ("a", "b")),)
    with pytest.raises(Unreadable, match="expected a sheet called 'Nots'; those with cells are 'Notes', 'Orders'"):
        read_sheet(path, ReadingChoices(sheet="Nots"))


def test_a_paste_is_a_table() -> None:
    sheet = read_sheet_text('order\titem\r\n1\t"Pen\nblue"\r\n')
    assert (sheet.name, sheet.delimiter, sheet.rows) == ("the clipboard", "\t", (Row(2, ("1", "Pen\nblue")),))
    with pytest.raises(Unreadable, match="the clipboard: expected a header row"):
        read_sheet_text("  \n")


def test_an_enormous_paste_is_refused(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("desk.intake.columns.sheet.MOST_BYTES", 10)
    with pytest.raises(Unreadable, match="at most 64 million characters"):
        read_sheet_text("order\titem\n1\tPen\n")


def test_a_second_header_of_the_same_name_is_distinguished() -> None:
    sheet = read_sheet_text("order,name,name,,name\n1,Ada,Card,x,y\n")
    assert sheet.header == ("order", "name", "name [2]", "", "name [3]")


@pytest.mark.parametrize(("rows", "can_be_read"), [(4, True), (5, False)])
def test_a_table_has_a_maximum_of_rows(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, rows: int, can_be_read: bool
) -> None:
    monkeypatch.setattr(sheet_module, "MOST_ROWS", 5)  # with the header
    file = put(tmp_path, "a.csv", "order,item\n" + "1,Book\n" * rows)
    if can_be_read:
        assert len(read_sheet(file).rows) == rows
    else:
        with pytest.raises(Unreadable, match="at most 5 rows"):
            read_sheet(file)


@pytest.mark.parametrize(("columns", "can_be_read"), [(3, True), (4, False)])
def test_a_table_has_a_maximum_of_columns(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, columns: int, can_be_read: bool
) -> None:
    monkeypatch.setattr(sheet_module, "MOST_COLUMNS", 3)
    file = put(tmp_path, "a.csv", "order,item\n" + ",".join("1" * columns) + "\n")
    if can_be_read:
        assert len(read_sheet(file).rows[0].cells) == columns
    else:
        with pytest.raises(Unreadable, match="at most 3 columns"):
            read_sheet(file)


@pytest.mark.parametrize(("length", "is_known"), [(0, 0), (60, 1), (61, 0)])
def test_a_header_has_at_most_sixty_characters(length: int, is_known: int) -> None:
    cell = "order".ljust(length) if length else ""
    assert known_order_headers([cell]) == is_known
