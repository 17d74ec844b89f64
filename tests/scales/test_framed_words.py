"""Framed lines: three letters of status, six digits of weight, six of tare. The examples are in tests/recordings."""

from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from desk.scales.drivers.framed_words import read_words
from desk.scales.reading import Capture, State


def frame(point=4, second=0x20, third=0x23, weight=b"000120", tare=b"000000"):
    """The first letter places the decimal point (4: hundredths), the third names the unit (3: ounces)."""
    return bytes([0x28 | point, second, third]) + weight + tare


def test_a_plain_frame_is_read():
    reading = read_words(frame())
    assert (str(reading.value), reading.unit, reading.state) == ("1.20", "oz", State.STABLE)


@pytest.mark.parametrize(
    ("point", "value"), [(0, "12000"), (1, "1200"), (2, "120"), (3, "12.0"), (4, "1.20"), (7, "0.00120")]
)
def test_the_first_letter_places_the_decimal_point(point, value):
    assert f"{read_words(frame(point)).value:f}" == value


@pytest.mark.parametrize(
    ("second", "third", "unit"),
    [(0x20, 0x20, "lb"), (0x30, 0x20, "kg"), (0x20, 0x21, "g"), (0x20, 0x23, "oz"), (0x30, 0x23, "oz")],
)
def test_the_third_letter_names_the_unit(second, third, unit):
    assert read_words(frame(second=second, third=third)).unit == unit


@pytest.mark.parametrize(
    ("second", "state"),
    [
        (0x20, State.STABLE),
        (0x28, State.MOVING),
        (0x24, State.OVER),
        (0x26, State.UNDER),
        (0x60, State.ZERO_ERROR),
        (0x2C, State.OVER),
    ],
)
def test_the_second_letter_names_the_state(second, state):
    reading = read_words(frame(second=second))
    assert reading.state is state
    assert (reading.value is None) == (state not in (State.STABLE, State.MOVING))


def test_a_minus_and_a_net_weight_are_read():
    assert read_words(frame(second=0x22)).value == Decimal("-1.20")
    assert read_words(frame(second=0x21)).may_capture is Capture.ASK_FIRST


@pytest.mark.parametrize(
    "broken",
    [
        b"",
        frame()[:-1],
        frame() + b"0",
        frame(weight=b"      "),
        frame(weight=b"00x120"),
        frame(weight=b"-00120"),
        frame(third=0x22),
        frame(second=0x00),
        frame(second=0xA0),
        b"\x6c" + frame()[1:],
        frame(third=0x63),
    ],
)
def test_impossible_values_are_refused(broken):
    assert (read_words(broken).state, read_words(broken).value) == (State.REFUSED, None)


@given(st.binary(max_size=20))
def test_any_bytes_give_a_reading(data):
    reading = read_words(data)
    assert reading.raw == data
    assert reading.state is State.REFUSED or len(data) == 15
