from __future__ import annotations

from pathlib import Path

import pytest

from desk.domain.faults import Unreadable
from desk.intake.reading import Reading
from desk.intake.sheet import Row, header_place, read_sheet
from tests.intake.tables import ods, put, sentences, xlsx


def test_a_table_with_title_blank_lines_and_spaces(tmp_path: Path) -> None:
    sheet = read_sheet(put(tmp_path, "a.csv", "All orders\n\n order ; item ;;\n\n 1 ; Book ;\n;;;\n2;Pen\n"))
    assert sheet.header == ("order", "item")
    assert sheet.header_line == 3
    assert sheet.rows == (Row(5, ("1", "Book", "")), Row(7, ("2", "Pen")))
    assert (sheet.encoding, sheet.delimiter) == ("utf-8", ";")


def test_encoding_and_delimiter_may_be_chosen(tmp_path: Path) -> None:
    path = put(tmp_path, "a.csv", "order,a;item\n1,b;Zoë\n".encode("mac_roman"))
    sheet = read_sheet(path, Reading(encoding="mac_roman", delimiter=";"))
    assert sheet.header == ("order,a", "item")
    assert sheet.rows == (Row(2, ("1,b", "Zoë")),)


@pytest.mark.parametrize("make", [xlsx, ods])
def test_workbooks_are_known_by_their_bytes(tmp_path: Path, make: object) -> None:
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
def test_nothing_to_read_is_a_sentence(tmp_path: Path, content: str | bytes, expected: str) -> None:
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
    assert header_place(rows) == expected
