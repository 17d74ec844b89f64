"""Reports of a USB scale, byte by byte. The published examples are in tests/recordings and tests/standards."""

from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from desk.scales.drivers.descriptor import ReportField, ReportLayout
from desk.scales.drivers.hid_report import STATUSES, WITH_NUMBER, decode, read_report
from desk.scales.reading import Capture, State
from desk.scales.units import HID_UNITS


def report(status=4, unit=11, power=-1, count=12, number=3):
    """Return number, status, unit, exponent and weight in two bytes: the usual layout."""
    return bytes([number, status, unit, power & 0xFF]) + count.to_bytes(2, "little")


@pytest.mark.parametrize(("place", "state"), list(enumerate(STATUSES, start=1)))
def test_statuses_are_those_of_the_usage_page_and_only_some_have_a_weight(place, state):
    reading = read_report(report(status=place))
    assert reading.state is state
    assert (reading.value is not None) == (state in WITH_NUMBER)


@pytest.mark.parametrize("status", [0, 9, 255])
def test_a_status_outside_the_usage_page_has_no_weight(status):
    reading = read_report(report(status=status))
    assert (reading.state, reading.value, reading.may_capture) == (State.UNKNOWN, None, Capture.NO)


@pytest.mark.parametrize(("place", "unit"), list(enumerate(HID_UNITS, start=1)))
def test_units_are_those_of_the_usage_page(place, unit):
    assert read_report(report(unit=place)).unit == unit


@pytest.mark.parametrize("unit", [0, 13, 255])
def test_a_unit_outside_the_usage_page_has_no_weight(unit):
    assert read_report(report(unit=unit)).value is None


@pytest.mark.parametrize(
    ("power", "count", "value"),
    [(-1, 12, "1.2"), (-2, 120, "1.20"), (0, 12, "12"), (1, 12, "120"), (-6, 1, "0.000001"), (6, 1, "1000000")],
)
def test_the_exponent_places_the_decimal_point_and_keeps_trailing_zeros(power, count, value):
    assert f"{read_report(report(power=power, count=count)).value:f}" == value


@pytest.mark.parametrize("power", [-7, 7, 127, -128])
def test_an_impossible_exponent_is_refused(power):
    assert read_report(report(power=power)).value is None


def test_a_reading_below_zero_is_negative_by_its_status():
    assert read_report(report(status=5)).value == Decimal("-1.2")


@pytest.mark.parametrize("number", [None, 3, 4])
def test_the_report_number_is_checked(number):
    data = report()[1:] if number is None else report(number=number)
    assert read_report(data, number).value == Decimal("1.2")
    assert read_report(b"\x09" + data[1:], number) is None or number is None


@given(st.binary(max_size=12), st.one_of(st.none(), st.integers(0, 255)))
def test_any_bytes_give_a_reading_or_none(data, number):
    reading = read_report(data, number)
    if reading is not None and reading.value is None:
        assert reading.may_capture is Capture.NO


def test_more_bytes_than_are_needed_do_no_harm():
    assert read_report(report() + b"\x00\x00").value == Decimal("1.2")


def test_a_layout_without_status_unit_or_exponent_is_read():
    bare = ReportLayout(None, ReportField(0, 16), None, None, None)
    reading = decode(b"\x0c\x00", bare)
    assert (reading.state, reading.value) == (State.NOT_TOLD, None)  # no unit, so no weight
