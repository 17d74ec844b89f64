"""Every row of the two byte tables, through the functions behind the headless questions."""

import csv
from decimal import Decimal
from pathlib import Path

import pytest

from desk.domain.faults import Refused
from desk.scales.drivers.descriptor import ReportField, ReportLayout, common_layout
from desk.scales.drivers.framing import Framer
from desk.scales.drivers.hid_report import decode, read_report
from desk.scales.drivers.lines import LineReader
from desk.scales.drivers.presets import PRESETS, read_lines

TABLES = Path(__file__).parent.parent / "recordings"


def rows(name):
    with (TABLES / name).open(encoding="utf-8", newline="") as file:
        return list(csv.DictReader(file))


REPORTS, LINES = rows("hid-reports.csv"), rows("serial-lines.csv")
LAYOUTS = {
    "id 3: status, unit, exponent, weight u16le": common_layout(),
    "weight u32le": ReportLayout(
        3, ReportField(24, 32), ReportField(16, 8), ReportField(0, 8, 1), ReportField(8, 8, 1)
    ),
    "no status field": ReportLayout(3, ReportField(16, 16), ReportField(8, 8), None, ReportField(0, 8, 1)),
}


def text(number):
    return "" if number is None else format(number, "f")


@pytest.mark.parametrize("row", REPORTS, ids=[row["id"] for row in REPORTS])
def test_each_recorded_usb_report_is_read_as_documented(row):
    got = decode(bytes.fromhex(row["report_hex"]), LAYOUTS[row["layout"]])
    if row["kind"] != "data":
        assert got is None
        return
    assert (got.state, text(got.value), got.unit or "", text(got.grams), got.may_capture) == (
        row["status"],
        row["shown_value"],
        row["shown_unit"],
        row["grams"],
        row["may_capture"],
    )


@pytest.mark.parametrize("row", REPORTS, ids=[row["id"] for row in REPORTS])
def test_the_hid_question_uses_the_common_layout(row):
    data = bytes.fromhex(row["report_hex"])
    assert read_report(data) == decode(data, common_layout())


def test_a_device_without_report_numbers():
    got = read_report(bytes.fromhex("040BFF0C00"), None)
    assert (got.value, got.unit, got.state) == (Decimal("1.2"), "oz", "stable")


def test_the_report_number_follows_the_descriptor():
    assert read_report(bytes.fromhex("04040BFF0C00"), 4).grams == Decimal("34.01942775")


# The table of the reference decoder writes "-" for nothing and "refused" for an unreadable frame.
def cell(reading, what):
    if what == "state":
        return reading.state.value
    if what == "value" and reading.state == "refused":
        return "refused"
    value = getattr(reading, what)
    return "-" if value is None else value if what == "unit" else format(value, "f")


def readings_of(row):
    data = bytes.fromhex(row["input_hex"])
    if "silence after the cut" not in row["note"]:
        return read_lines(row["preset"], data)
    pattern = PRESETS[row["preset"]]
    framer, reader, cut = Framer(pattern.ends), LineReader(pattern), data.rindex(b"ST")
    return tuple(
        reader.read(frame) for at, part in ((0, data[:cut]), (0.6, data[cut:])) for frame in framer.feed(at, part)
    )


@pytest.mark.parametrize("row", LINES, ids=[row["id"] for row in LINES])
def test_each_recorded_serial_line_is_read_as_documented(row):
    got = readings_of(row)
    assert len(got) == int(row["frames"])
    for what in ("value", "unit", "state", "grams"):
        assert " | ".join(cell(reading, what) for reading in got) == row[what]


@pytest.mark.parametrize("row", LINES, ids=[row["id"] for row in LINES])
def test_a_line_in_pieces_reads_the_same(row):
    """Bytes arrive in pieces of any length, 30 ms apart."""
    if "silence" in row["note"]:
        return
    pattern, data = PRESETS[row["preset"]], bytes.fromhex(row["input_hex"])
    framer, reader = Framer(pattern.ends), LineReader(pattern)
    pieces = [data[place : place + 5] for place in range(0, len(data), 5)]
    got = tuple(reader.read(frame) for place, piece in enumerate(pieces) for frame in framer.feed(place * 0.03, piece))
    assert got == read_lines(row["preset"], data)


def test_the_tables_are_complete():
    assert (len(REPORTS), len(LINES)) == (45, 60)
    assert {row["preset"] for row in LINES} == set(PRESETS)
    assert all(row["source"] and row["known_by"] for row in REPORTS + LINES)


def test_seven_bits_with_even_parity_are_read():
    """Worked out: even parity sets the high bit of each byte with an odd number of ones."""
    line = b"ST,GS,+   1.25,oz\r\n"
    sent = bytes(byte | (bin(byte).count("1") % 2) << 7 for byte in line)
    assert sum(byte > 127 for byte in sent) == 11
    assert [got.state for got in read_lines("status-prefixed", sent)] == ["refused"]
    assert read_lines("status-prefixed", sent, seven_bits=True)[0].value == Decimal("1.25")


def test_an_unknown_preset_is_refused_with_the_names_of_all_presets():
    with pytest.raises(Refused, match="poll-etx"):
        read_lines("nonsense", b"")


@pytest.mark.parametrize(
    ("preset", "line", "state", "value"),
    [
        ("status-prefixed", b"OL\r\n", "over", None),
        ("status-prefixed", b"OL,GS,+------,oz\r\n", "over", None),
        ("status-prefixed", b"ST,GS,------,oz\r\n", "zero_error", None),
        ("status-prefixed", b"ST,GS,+   123E+19,oz\r\n", "error", None),
        ("status-prefixed", b"QT,+0000125,kg\r\n", "error", None),
        ("status-prefixed", b"ST,GS,-   0.00,oz\r\n", "stable", "0.00"),
        ("status-prefixed", b"ST,GS,+   0.91,ozt\r\n", "stable", "0.91"),
        ("poll-etx", b"\n 001.25OZ\r\nS02\r\x03", "over", None),
        ("poll-etx", b"\nS04\r\x03", "error", None),
        ("poll-etx", b"\nS00\x38\r\x03", "zero_error", None),
        ("poll-etx-lb-oz", b"\n 2LB 16.0OZ\r\nS00\r\x03", "error", None),
        ("stable-letter", b"S S     100.00\r\n", "refused", None),
        ("value-unit-mark", b"    3.5 gr\r\n", "refused", None),
        ("value-unit-mark", b"    3,5 oz\r\n", "error", None),
        ("fixed-fields", b"\nU1G  ---------lb \r", "under", None),
        ("fixed-fields", b"\nE1G      70.100lb \r", "zero_error", None),
        ("fixed-fields", b"\nO1GM     70.100lb \r", "over", None),
        ("framed-words", b"\x02,&   0000000000\r", "under", None),
        ("framed-words", b"\x02,(   0125000000\r", "moving", "1.25"),
        ("framed-words", b"\x02* !   125000000\r", "stable", "125"),
        ("framed-words", b"\x02(  000012000000\r", "stable", "1200"),
        ("framed-words", b"\x02,    0125000000\rX", "stable", "1.25"),
        ("framed-words", b"\x02, '  0125000000\r", "refused", None),
        ("framed-words", b"\x02,    01x5000000\r", "refused", None),
    ],
)
def test_lines_missing_from_the_recordings_are_read(preset, line, state, value):
    (got,) = read_lines(preset, line)
    assert (got.state.value, None if got.value is None else format(got.value, "f")) == (state, value)


@pytest.mark.parametrize(
    ("preset", "line"),
    [
        ("status-prefixed", b"ST,NT,+   0.50,oz\r\n"),
        ("value-unit-mark", b"   3.5 oz N\r\n"),
        ("fixed-fields", b"\n 1N      12.500oz \r"),
        ("framed-words", b"\x02,!   0125000000\r"),
    ],
)
def test_a_net_weight_is_marked_and_asked_about(preset, line):
    (got,) = read_lines(preset, line)
    assert (got.net, got.may_capture) == (True, "ask first")


def test_settings_may_fix_the_unit():
    from dataclasses import replace

    from desk.scales.drivers.lines import read_frames

    pattern = replace(PRESETS["status-prefixed"], unit_when_missing="oz", decimal_sign=",")
    (got,) = read_frames(pattern, b"ST,GS,+   1,25,\r\n")
    assert (got.value, got.unit, got.may_capture) == (Decimal("1.25"), "oz", "yes")
