"""Tables with a fixed header: rows with their lines, from text or a workbook, and refusals with their place."""

from pathlib import Path

import pytest

from desk.domain.faults import Unreadable
from desk.tables.lines import LONGEST, numbered_rows
from tests.intake.tables import xlsx


def put(folder: Path, content: bytes) -> Path:
    file = folder / "prices"
    file.write_bytes(content)
    return file


def test_rows_know_their_line_and_cells_are_stripped(tmp_path):
    file = put(tmp_path, b'\xef\xbb\xbfa,b\r\n\r\n1 ,"two\nlines"\n3,4\n')
    assert numbered_rows(file, "prices") == [(1, ["a", "b"]), (3, ["1", "two\nlines"]), (5, ["3", "4"])]


def test_a_workbook_gives_the_rows_of_its_first_sheet(tmp_path):
    file = put(tmp_path, xlsx([["a", "b"], ["1", "2"]]))
    assert numbered_rows(file, "prices") == [(1, ["a", "b"]), (2, ["1", "2"])]


@pytest.mark.parametrize(
    ("content", "line", "expected"),
    [
        (b"a\n\xff", 0, "text in UTF-8"),
        (b'a\n"b', 2, "a closing quote; the cell that opens here never ends"),
        (b"a\n" + b"x" * (LONGEST + 1), 2, f"cells of at most {LONGEST:,} characters"),
    ],
)
def test_a_value_that_is_not_a_table_is_refused_at_its_line(tmp_path, content, line, expected):
    with pytest.raises(Unreadable) as refused:
        numbered_rows(put(tmp_path, content), "prices")
    assert [(fault.file, fault.line, fault.expected) for fault in refused.value.faults] == [("prices", line, expected)]


def test_a_cell_of_the_maximum_length_is_read(tmp_path):
    assert numbered_rows(put(tmp_path, b"x" * LONGEST), "prices") == [(1, ["x" * LONGEST])]
