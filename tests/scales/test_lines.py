"""Frames, the reader and its limits: no exception escapes, and no reading is invented."""

import sys
import time
from dataclasses import replace
from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from desk.domain.faults import Refused
from desk.scales.drivers.framing import LONGEST, Ends, Framer
from desk.scales.drivers.lines import LinePattern, LineReader, read_frames
from desk.scales.drivers.own_pattern import check_expression
from desk.scales.drivers.presets import PRESETS, read_lines
from desk.scales.reading import State

GOOD = b"ST,GS,+   1.25,oz"
STREAM = PRESETS["status-prefixed"]


def frames(data, ends=Ends.LINE, **options):
    return Framer(ends, **options).feed(0.0, data)


@pytest.mark.parametrize(
    ("data", "got"),
    [
        (b"a\r\nb\r\n", [b"a", b"b"]),
        (b"a\x03b\n", [b"a", b"b"]),
        (b"a", []),
        (b"a\x02b\r", [b"b"]),
        (b"   \r\n", []),
        (b"x" * LONGEST + b"\r", [b"x" * LONGEST]),
        (b"x" * (LONGEST + 1) + b"\ry\r", [b"y"]),
    ],
)
def test_bytes_are_split_into_lines(data, got):
    assert frames(data) == got


def test_only_the_end_of_text_ends_an_answer():
    assert frames(b"\n1oz\r\nS00\r\x03", Ends.ETX) == [b"\n1oz\r\nS00\r"]


def test_the_first_partial_line_after_opening_is_dropped():
    assert frames(b"1.25,oz\r\n" + GOOD + b"\r\n", joined_midway=True) == [GOOD]


def test_half_a_line_before_a_silence_is_dropped():
    framer = Framer(Ends.LINE)
    assert framer.feed(0.0, b"ST,GS,+   1.2") == []
    assert framer.feed(0.3, b"") == []
    assert framer.feed(0.6, GOOD + b"\r") == [GOOD]
    assert framer.feed(0.7, b"ST,GS,") + framer.feed(1.1, b"+   1.25,oz\r") == [GOOD]


@given(st.sampled_from(sorted(PRESETS)), st.binary(max_size=300), st.booleans())
def test_junk_raises_no_error_and_a_refused_frame_has_no_weight(preset, data, seven_bits):
    for got in read_lines(preset, data, seven_bits):
        if got.state is State.REFUSED:
            assert (got.value, got.unit, got.grams) == (None, None, None)
        if got.value is not None:
            assert any(chr(byte & 0x7F).isdigit() for byte in got.raw)


@given(st.integers(0, len(GOOD) - 1), st.integers(0, 7))
def test_a_wrong_bit_never_makes_a_number_longer(place, bit):
    """A flipped bit may change a digit, which settling catches, but never adds one or moves the point unnoticed."""
    damaged = GOOD[:place] + bytes([GOOD[place] ^ 1 << bit]) + GOOD[place + 1 :]
    for got in read_lines("status-prefixed", damaged + b"\r\n"):
        assert got.value is None or got.value.as_tuple().exponent == -2 or place in range(6, 14)


@given(st.binary(min_size=1, max_size=20).filter(lambda junk: not set(junk) & {2, 3, 10, 13}))
def test_junk_glued_before_a_line_refuses_it(junk):
    (got,) = read_lines("value-unit-mark", b"Z" + junk + b" 3.5 oz\r\n")
    assert got.state == "refused"


def test_lines_of_another_length_are_read_only_after_a_few_repeats():
    reader = LineReader(STREAM, steady=True)
    longer = b"ST,GS,+    1.25,oz"
    states = [reader.read(line).state for line in (GOOD, longer, longer, GOOD, longer, longer, longer, longer, GOOD)]
    assert states == ["stable", "refused", "refused", "stable", "refused", "refused", "stable", "stable", "refused"]


def test_two_alternating_line_lengths_are_never_accepted():
    reader = LineReader(STREAM, steady=True)
    reader.read(GOOD)
    others = [b"ST,GS,+    1.25,oz", b"ST,GS,+     1.25,oz"] * 3
    assert {reader.read(line).state for line in others} == {"refused"}


SLOW = r"(?P<value>(?:1|1A|[1A]1)*)[xy]"


def test_a_slow_pattern_is_switched_off_after_three_timeouts():
    reader = LineReader(LinePattern("own", (SLOW,)))
    line = b"1" * 96
    begun = time.process_time()
    for _ in range(5):
        assert reader.read(line).state == "refused"
    assert (reader.time_outs, reader.switched_off) == (3, True)
    assert time.process_time() - begun < 1.0


def test_a_slow_pattern_fails_its_check():
    with pytest.raises(Refused, match="too long on some lines"):
        check_expression(SLOW)


@pytest.mark.parametrize("pattern", PRESETS.values(), ids=PRESETS)
def test_the_presets_pass_their_own_check(pattern):
    for expression in pattern.expressions:
        if "<value>" in expression or "<lb>" in expression:
            check_expression(expression)


@pytest.mark.parametrize(
    ("expression", "why"),
    [
        (r"(?P<value>\d+)" + " " * 300, "more than 300"),
        (r"(?=x)(?P<value>\d+)", "looks around"),
        (r"(?P<value>\d+)(?<!x)", "looks around"),
        (r"(\d)\1(?P<value>\d+)", "refers back"),
        (r"(?P<value>\d+)(?P=value)", "refers back"),
        (r"(?P<value>\d+", "cannot be read"),
        (r"(?P<weight>\d+)", "names no value"),
    ],
)
def test_unusable_patterns_are_refused(expression, why):
    with pytest.raises(Refused, match=why):
        check_expression(expression)


def test_a_user_can_define_a_pattern():
    expression = r"(?P<value>\d+\.\d)/(?P<unit>oz)/(?P<status>[AB])"
    check_expression(expression)
    own = LinePattern("own", (expression,), states={"B": State.MOVING})
    got = read_frames(own, b"12.5/oz/A\r12.5/oz/B\r")
    assert [(one.value, one.state.value) for one in got] == [(Decimal("12.5"), "stable"), (Decimal("12.5"), "moving")]


def test_the_meaning_of_bits_can_be_inverted():
    """Descriptions of the status bits differ, so a setup can invert their meaning."""
    from desk.scales.drivers.lines import Bit

    other = replace(PRESETS["poll-etx"], bits=(Bit(0, 1, State.MOVING),))
    assert [one.state for one in read_frames(other, b"\n1.2oz\r\nS10\r\x03\n1.2oz\r\nS20\r\x03")] == [
        "stable",
        "moving",
    ]


def test_reading_and_settling_need_no_library_for_devices():
    import subprocess

    code = (
        "import sys, desk.scales.reading, desk.scales.following, desk.scales.thread, desk.scales.drivers.presets, "
        "desk.scales.devices; print(sorted({'serial', 'hid', 'hidraw', 'regex', 'PySide6'} & set(sys.modules)))"
    )
    got = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert got.stdout.strip() == "[]"


def test_status_bits_are_not_trusted_before_they_were_tried():
    """Descriptions of these bits contradict each other, so equal readings decide."""
    assert {name for name, pattern in PRESETS.items() if not pattern.flag_is_sure} == {"poll-etx", "poll-etx-lb-oz"}
