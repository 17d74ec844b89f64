"""A reading: exact grams, and whether it may be recorded automatically."""

from decimal import Decimal

import pytest

from desk.scales.reading import Capture, State, shown_reading

D = Decimal


def may(value="1.2", unit="oz", state=State.STABLE, **fields):
    return shown_reading(D(value), unit, state, b"", **fields).may_capture


@pytest.mark.parametrize(
    ("state", "expected"),
    [(State.STABLE, Capture.YES), (State.NOT_TOLD, Capture.BY_EQUAL_READINGS)]
    + [(state, Capture.NO) for state in State if state not in (State.STABLE, State.NOT_TOLD)],
)
def test_only_some_states_may_give_a_weight(state, expected):
    assert may(state=state) is expected


@pytest.mark.parametrize(("value", "expected"), [("0", Capture.NO), ("-0.1", Capture.NO), ("0.001", Capture.YES)])
def test_a_weight_is_above_zero(value, expected):
    assert may(value) is expected


@pytest.mark.parametrize(
    ("unit", "expected"),
    [("g", Capture.YES), ("kg", Capture.YES), ("lb", Capture.YES), ("carat", Capture.ASK_FIRST),
     ("troy_oz", Capture.ASK_FIRST), ("tael", Capture.NO), (None, Capture.NO)],
)  # fmt: skip
def test_an_unusual_unit_is_asked_about_and_one_without_grams_is_refused(unit, expected):
    assert may(unit=unit) is expected


@pytest.mark.parametrize("state", [State.STABLE, State.NOT_TOLD])
def test_a_weight_with_a_tare_is_not_gross_and_is_asked_about(state):
    assert may(state=state, net=True) is Capture.ASK_FIRST


def test_grams_are_exact_and_zero_has_no_sign():
    assert shown_reading(D("1.2"), "oz", State.STABLE, b"x").grams == D("34.01942775")
    nothing = shown_reading(D("-0.00"), "oz", State.ZERO, b"x")
    assert (str(nothing.value), nothing.grams) == ("0.00", 0)


def test_a_timestamp_changes_only_the_time():
    reading = shown_reading(D("1.2"), "oz", State.STABLE, b"raw", net=True)
    timed = reading.timed(7.5)
    assert (timed.at, reading.at) == (7.5, 0.0)
    assert timed.timed(0.0) == reading
