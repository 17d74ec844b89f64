import pytest

from desk.domain.faults import Unreadable
from desk.session.rulebook import read_zone_chart
from tests.intake.tables import xlsx


def write(tmp_path, text):
    path = tmp_path / "own-zones.csv"
    path.write_text(text, encoding="utf-8")
    return path


def faults(path):
    with pytest.raises(Unreadable) as caught:
        read_zone_chart(path)
    return [str(fault) for fault in caught.value.faults]


def test_prefixes_ranges_and_single_zip_codes_are_read(tmp_path):
    read = read_zone_chart(write(tmp_path, "prefix,zone,edition\n005,1,2026-10-01\n010-012,3,\n96939-96940,9,\n"))
    assert read.rows == {"005": 1, "010": 3, "011": 3, "012": 3, "96939": 9, "96940": 9}
    assert read.edition == "2026-10-01"


def test_columns_may_be_in_another_order_and_follow_a_byte_order_mark(tmp_path):
    read = read_zone_chart(write(tmp_path, "\ufeffZone,ZIP3\n 4 , 900 \n\n"))
    assert read.rows == {"900": 4}
    assert read.edition == "own-zones.csv"


@pytest.mark.parametrize(
    ("text", "expected"),
    [
        ("prefix,zone\n90,4\n", "own-zones.csv: line 2, prefix: '90' found, expected three or five digits"),
        ("prefix,zone\n012-010,4\n", "own-zones.csv: line 2, prefix: '012-010' found, expected three or five digits"),
        ("prefix,zone\n900,0\n", "own-zones.csv: line 2, zone: '0' found, expected a zone from 1 to 9"),
        ("prefix,zone\n900,4*\n", "own-zones.csv: line 2, zone: '4*' found, expected a zone from 1 to 9"),
        ("prefix,zone\n900\n", "own-zones.csv: line 2, zone: expected a zone from 1 to 9"),
        ("prefix,zone\n900-905,4\n903,4\n", "own-zones.csv: line 3, prefix: '903' found, expected each prefix once"),
        ("from,to\n900,4\n", "own-zones.csv: line 1: 'from,to' found, expected a heading with the columns"),
        ("", "own-zones.csv: expected a header row and rows below it"),
        ("prefix,zone\n", "own-zones.csv: line 1: expected rows below the header"),
    ],
)
def test_each_faulty_line_is_one_fault(tmp_path, text, expected):
    found = faults(write(tmp_path, text))
    assert len(found) == 1
    assert found[0].startswith(expected)


def test_every_fault_is_reported(tmp_path):
    found = faults(write(tmp_path, "prefix,zone\n9,1\n900,x\n"))
    assert [fault.split(":")[1] for fault in found] == [" line 2, prefix", " line 3, zone"]


def test_a_missing_file_is_reported(tmp_path):
    assert faults(tmp_path / "none.csv") == ["none.csv: expected an existing file; there is none with this name"]


def test_a_file_that_is_not_text_is_reported(tmp_path):
    path = tmp_path / "own-zones.csv"
    path.write_bytes(b"\xff\xfe1")
    assert faults(path) == [
        "own-zones.csv: expected a table (CSV, TSV, XLSX or ODS), but this is some other kind of file"
    ]


def test_a_cell_too_long_for_a_table_is_reported(tmp_path):
    (tmp_path / "zones.csv").write_text("prefix,zone\n010,1\n" + "9" * 200_000 + ",2\n", encoding="utf-8")
    with pytest.raises(Unreadable, match=r"zones.csv: line 3, prefix: '9{80}' found"):
        read_zone_chart(tmp_path / "zones.csv")


def test_a_workbook_with_titles_and_two_pairs_of_columns_is_read(tmp_path):
    rows = [["Zone chart (invented)"], [], ["ZIP Code", "Zone", "ZIP Code", "Zone"]]
    rows += [["005", "1", "010---012", "3"], ["006", "7", "96939--96940", "9"], ["900", "4", "", ""]]
    (tmp_path / "zones.xlsx").write_bytes(xlsx(rows))
    read = read_zone_chart(tmp_path / "zones.xlsx")
    assert read.rows == {"005": 1, "010": 3, "011": 3, "012": 3, "006": 7, "96939": 9, "96940": 9, "900": 4}
    assert read.edition == "zones.xlsx"


@pytest.mark.parametrize(("zone", "fine"), [("0", False), ("1", True), ("9", True), ("10", False)])
def test_zones_are_numbered_from_one_to_nine(tmp_path, zone, fine):
    file = write(tmp_path, f"prefix,zone\n900,{zone}\n")
    if fine:
        assert read_zone_chart(file).rows == {"900": int(zone)}
    else:
        assert len(faults(file)) == 1


@pytest.mark.parametrize("text", ["900-90105,4", "90000-901,4", "prefix", "9000,4"])
def test_a_range_runs_between_prefixes_of_one_length(tmp_path, text):
    assert faults(write(tmp_path, f"prefix,zone\n{text}\n"))


def test_each_prefix_column_needs_its_zone_column(tmp_path):
    assert read_zone_chart(write(tmp_path, "prefix,zone,prefix,zone\n005,1,006,2\n")).rows == {"005": 1, "006": 2}
    assert faults(write(tmp_path, "prefix,zone,prefix\n005,1,006\n"))
