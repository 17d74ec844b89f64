from __future__ import annotations

import io
import zipfile
from datetime import date, datetime, time

import pytest

from desk.domain.faults import Unreadable
from desk.tables import workbook_check
from desk.tables.workbook import is_workbook, workbook_sheets
from desk.tables.workbook_cells import cell_text, sheets_of_workbook
from tests.intake.tables import ods, xlsx

ROWS = [["order", "recipient"], ["001", "Zoë Ōta"], ["", "a & b"]]


@pytest.mark.usefixtures("process")
def test_xlsx_text_is_read_exactly() -> None:
    raw = xlsx(ROWS)
    assert is_workbook(raw)
    assert workbook_sheets(raw, "a.xlsx") == {"Sheet1": list(enumerate(ROWS, start=1))}


@pytest.mark.usefixtures("process")
def test_ods_text_is_read_exactly() -> None:
    raw = ods(ROWS)
    assert is_workbook(raw)
    assert workbook_sheets(raw, "a.ods") == {"Sheet1": list(enumerate(ROWS, start=1))}


@pytest.mark.usefixtures("process")
def test_row_numbers_are_those_of_the_worksheet() -> None:
    assert [line for line, _ in workbook_sheets(xlsx(ROWS, first_row=4), "a.xlsx")["Sheet1"]] == [5, 6, 7]


@pytest.mark.usefixtures("process")
def test_an_empty_workbook_has_no_rows() -> None:
    assert workbook_sheets(xlsx([]), "a.xlsx") == {}


@pytest.mark.parametrize(
    ("cell", "expected"),
    [
        ("Note\x07book", "Notebook"),
        (1001.0, "1001"),
        (12.5, "12.5"),
        (36.299999999999997, "36.3"),
        (1e-7, "0.0000001"),
        (True, "yes"),
        (False, "no"),
        (date(2026, 11, 25), "2026-11-25"),
        (datetime(2026, 11, 25), "2026-11-25"),  # noqa: DTZ001 workbooks know no zones
        (datetime(2026, 11, 25, 10, 30), "2026-11-25 10:30:00"),  # noqa: DTZ001
        (time(10, 30), "10:30:00"),
        (7, "7"),
    ],
)
def test_cells_are_read_as_in_a_text_table(cell: object, expected: str) -> None:
    assert cell_text(cell) == expected


@pytest.mark.usefixtures("process")
def test_typed_cells_of_a_real_workbook_are_read() -> None:
    found = workbook_sheets(xlsx([["order", "placed", "paid"], [1001, date(2026, 11, 25), 4.2]]), "a.xlsx")["Sheet1"]
    assert found[1] == (2, ["1001", "2026-11-25", "4.2"])


def changed(raw: bytes, old: bytes, new: bytes) -> bytes:
    """Return the archive with a text in its parts replaced."""
    buffer = io.BytesIO()
    with zipfile.ZipFile(io.BytesIO(raw)) as before, zipfile.ZipFile(buffer, "w") as after:
        for name in before.namelist():
            after.writestr(name, before.read(name).replace(old, new))
    return buffer.getvalue()


@pytest.mark.parametrize(
    "raw",
    [
        xlsx(ROWS)[:-200],
        b"PK\x03\x04 and nothing more",
        changed(ods(ROWS), b"</text:p>", b"</text:r</text:p>"),  # the reader alone would never return
        changed(xlsx(ROWS), b"<sheetData>", b"<sheetData"),
        changed(ods(ROWS), b"UTF-8", b"XTF-8"),
        changed(ods(ROWS), b"?><office", b'?><!DOCTYPE x [<!ENTITY a "aaaa">]><office'),
    ],
)
@pytest.mark.usefixtures("process")
def test_a_damaged_workbook_gives_a_sentence(raw: bytes) -> None:
    with pytest.raises(Unreadable) as caught:
        workbook_sheets(raw, "a.xlsx")
    assert str(caught.value) == ("a.xlsx: expected an undamaged workbook (XLSX or ODS); open it and save it again")


def test_an_older_workbook_format_is_named() -> None:
    with pytest.raises(Unreadable) as caught:
        workbook_sheets(b"\xd0\xcf\x11\xe0" + b"\0" * 600, "a.xls")
    assert str(caught.value) == "a.xls: expected a workbook saved as XLSX or ODS; this one is in an older form"


def test_a_small_archive_with_huge_contents_is_not_unpacked(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(workbook_check, "MOST_UNPACKED", 1000)
    with pytest.raises(Unreadable) as caught:
        sheets_of_workbook(xlsx(ROWS), "a.xlsx")
    assert str(caught.value) == "a.xlsx: expected a workbook of at most 256 MB when unpacked"
