"""Doubt about a reading: the tolerance by load, and when exactly one answer is possible."""

from __future__ import annotations

from dataclasses import replace
from decimal import Decimal

import pytest

from desk.domain.weight import NOTHING, Weight
from desk.rates.doubt import band, doubt, tolerance_divisions
from desk.rates.posting import shown

OUNCE = Weight.of(1, "oz")


def test_the_band_reaches_half_a_step_and_the_tolerance_in_both_directions():
    ends = band(shown("1.0", "oz", "0.1"), Decimal(1))
    assert (ends.low, ends.high) == (Weight.of("0.85", "oz"), Weight.of("1.15", "oz"))


def test_a_label_added_later_shifts_both_ends():
    ends = band(shown("28", "g", "1"), Decimal(0), Weight.of(2, "g"))
    assert (ends.low, ends.high) == (Weight.of("29.5", "g"), Weight.of("30.5", "g"))


def seen(value, low=None, high=None, offset="0", step="0.1"):
    """Return a reading in ounces that was unsteady, or taken on a pan that was not at zero."""
    ends = (None if end is None else Decimal(end) for end in (low, high))
    return replace(shown(value, "oz", step), **dict(zip(("low", "high"), ends, strict=True)), offset=Decimal(offset))


@pytest.mark.parametrize(
    ("reading", "tolerance", "low", "high"),
    [
        (seen("0.9"), "1", "0.75", "1.05"),
        (seen("0.9", offset="0.1"), "1", "0.65", "1.15"),
        (seen("0.9", offset="-0.1"), "1", "0.65", "1.15"),  # a pan below zero widens the interval as much
        (seen("0.9", offset="0.1"), "0.5", "0.7", "1.1"),  # a check of the scale does not reset the pan to zero
        (seen("0.9", offset="0.1"), "0", "0.85", "0.95"),  # by rounding alone
        (seen("1.1", "1.0", "1.1"), "0", "0.95", "1.15"),  # the lower one below, the upper one above
        (seen("1.0", "1.0", "1.1"), "1", "0.85", "1.25"),
        (seen("1.1", "1.0", "1.1", "0.2"), "1", "0.65", "1.45"),
    ],
)
def test_unsteady_readings_widen_the_interval(reading, tolerance, low, high):
    ends = band(reading, Decimal(tolerance))
    assert (ends.low, ends.high) == (Weight.of(low, "oz"), Weight.of(high, "oz"))


@pytest.mark.parametrize(
    ("reading", "answer"),
    [
        (seen("0.8"), (False, False)),
        (seen("0.8", offset="0.1"), (False, True)),
        (seen("1.2", offset="-0.1"), (False, True)),
        (seen("1.1"), (False, True)),
        (seen("1.1", "1.0", "1.1"), (True, False)),
    ],
)
def test_an_offset_pan_is_tolerance_and_flicker_is_rounding(reading, answer):
    found = doubt(reading, OUNCE, Decimal(1))
    assert (found.open_by_rounding, found.open_by_tolerance) == answer


@pytest.mark.parametrize(
    ("value", "answer"),
    [("0.8", "under"), ("0.9", "tolerance"), ("1.0", "rounding"), ("1.1", "tolerance"), ("1.2", "over")],
)
def test_exactly_one_answer_about_a_doubt_is_true(value, answer):
    found = doubt(shown(value, "oz", "0.1"), OUNCE, Decimal(1))
    flags = {
        "under": found.under,
        "over": found.over,
        "rounding": found.open_by_rounding,
        "tolerance": found.open_by_tolerance,
    }
    assert [name for name, flag in flags.items() if flag] == [answer]


def test_touching_the_limit_with_one_end_is_not_doubt():
    """At steps of 0.2 oz, 3.4 and 3.6 both touch 3.5 with one end only: both are certain."""
    limit = Weight.of("3.5", "oz")
    assert doubt(shown("3.4", "oz", "0.2"), limit, Decimal(0)).under
    assert doubt(shown("3.6", "oz", "0.2"), limit, Decimal(0)).over


def test_the_tolerance_ignores_the_sign_of_the_load():
    assert tolerance_divisions(shown("-60.1", "oz", "0.1")) == 2
    assert tolerance_divisions(shown("0", "oz", "0.1")) == 1
    assert band(shown("0", "oz", "0.1"), Decimal(0), NOTHING).leaves_open(NOTHING)


@pytest.mark.parametrize(
    ("value", "under", "over", "is_open"),
    [
        ("0.94", True, False, False),
        ("0.95", True, False, False),  # its upper end is the ounce itself
        ("0.96", False, False, True),
        ("1.04", False, False, True),
        ("1.05", False, True, False),  # its lower end is the ounce itself
    ],
)
def test_exactly_one_answer_is_true_where_an_end_meets_the_limit(value, under, over, is_open):
    found = doubt(shown(value, "oz", "0.1"), OUNCE, Decimal(0))
    assert (found.under, found.over, found.open_by_rounding, found.open_by_tolerance) == (under, over, is_open, False)


@pytest.mark.parametrize(
    ("divisions", "tolerance"),
    [("500", 1), ("501", 2), ("2000", 2), ("2001", 3), ("4000", 3), ("4001", 5), ("-501", 2), ("0", 1)],
)
def test_the_tolerance_grows_with_the_load(divisions, tolerance):
    """NIST Handbook 44, section 2.20, Table 6, class III, maintenance (from memory)."""
    assert tolerance_divisions(shown(divisions, "g", "1")) == tolerance
