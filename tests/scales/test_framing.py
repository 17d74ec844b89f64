"""From bytes to complete frames: partial ones are dropped and never repaired, however the bytes arrive."""

from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from desk.scales.drivers.framing import LONGEST, LONGEST_HOLE_S, Ends, Framer


def fed(*parts, ends=Ends.LINE, gap=0.0, **options):
    framer = Framer(ends, **options)
    return [frame for place, part in enumerate(parts) for frame in framer.feed(place * gap, part)]


@pytest.mark.parametrize(
    ("data", "frames"),
    [
        (b"1.2 oz\r\n", [b"1.2 oz"]),
        (b"1.2 oz\r1.3 oz\n1.4 oz\x03", [b"1.2 oz", b"1.3 oz", b"1.4 oz"]),
        (b"\r\n\r\n", []),
        (b"   \r\n", []),
        (b"1.2 oz", []),
        (b"1.2\x021.3 oz\r", [b"1.3 oz"]),  # the start of a new frame discards the partial one
        (b"\x02\x02\x021\r", [b"1"]),
        (b"\xff\x00 \r", [b"\xff\x00 "]),
    ],
)
def test_lines_end_at_any_of_three_characters_and_empty_ones_are_skipped(data, frames):
    assert fed(data) == frames


def test_where_etx_ends_a_frame_line_breaks_are_part_of_it():
    assert fed(b"\n1.2 LB\r\nS00\r\x03", ends=Ends.ETX) == [b"\n1.2 LB\r\nS00\r"]


@given(st.binary(max_size=300), st.lists(st.integers(0, 300), max_size=6))
def test_frames_do_not_depend_on_how_the_bytes_are_split(data, cuts):
    places = [0, *sorted(min(cut, len(data)) for cut in cuts), len(data)]
    parts = [data[start:end] for start, end in pairwise(places)]
    assert fed(*parts) == fed(data)


@pytest.mark.parametrize(("length", "whole"), [(LONGEST, True), (LONGEST + 1, False), (5000, False)])
def test_an_overlong_line_is_dropped_and_the_next_one_is_read(length, whole):
    assert fed(b"1" * length + b"\r2\r") == ([b"1" * length] if whole else []) + [b"2"]


@pytest.mark.parametrize(("seconds", "frames"), [(LONGEST_HOLE_S, [b"1.2 oz"]), (LONGEST_HOLE_S + 0.01, [b"2 oz"])])
def test_a_pause_ends_the_line_begun_before_it(seconds, frames):
    assert fed(b"1.", b"2 oz\r", gap=seconds) == frames


def test_an_empty_read_does_not_count_as_a_signal():
    framer = Framer(Ends.LINE)
    framer.feed(0.0, b"1.")
    framer.feed(0.4, b"")
    assert framer.feed(0.8, b"2\r") == [b"2"]


def test_a_listener_that_starts_midway_gets_the_next_complete_line():
    assert fed(b"2 oz\r1.3 oz\r", joined_midway=True) == [b"1.3 oz"]
    assert fed(b"2 oz\x021.3 oz\r", joined_midway=True) == [b"1.3 oz"]


@pytest.mark.parametrize(("seven", "frames"), [(True, [b"1 oz"]), (False, [])])
def test_the_eighth_bit_is_dropped_in_seven_bit_data(seven, frames):
    assert fed(bytes(byte | 0x80 for byte in b"1 oz\r"), seven_bits=seven) == frames
