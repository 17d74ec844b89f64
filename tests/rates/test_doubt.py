"""Doubt of a reading: the tolerance by load, and that exactly one answer holds."""

from __future__ import annotations

from decimal import Decimal

import pytest

from desk.domain.weight import NOTHING, Weight
from desk.rates.doubt import band, doubt, tolerance_divisions
from desk.rates.posting import shown

OUNCE = Weight.of(1, "oz")


def test_ends_are_half_a_step_and_the_tolerance_away():
    ends = band(shown("1.0", "oz", "0.1"), Decimal(1))
    assert (ends.low, ends.high) == (Weight.of("0.85", "oz"), Weight.of("1.15", "oz"))


def test_what_goes_on_later_shifts_both_ends():
    ends = band(shown("28", "g", "1"), Decimal(0), Weight.of(2, "g"))
    assert (ends.low, ends.high) == (Weight.of("29.5", "g"), Weight.of("30.5", "g"))


@pytest.mark.parametrize(
    ("value", "answer"),
    [("0.8", "under"), ("0.9", "tolerance"), ("1.0", "rounding"), ("1.1", "tolerance"), ("1.2", "over")],
)
def test_exactly_one_answer_holds(value, answer):
    found = doubt(shown(value, "oz", "0.1"), OUNCE, Decimal(1))
    flags = {
        "under": found.under,
        "over": found.over,
        "rounding": found.open_by_rounding,
        "tolerance": found.open_by_tolerance,
    }
    assert [name for name, flag in flags.items() if flag] == [answer]


def test_the_single_point_at_an_end_is_not_doubt():
    """At 0.2 oz steps 3.4 reaches 3.5 and 3.6 comes down to it: both are certain."""
    limit = Weight.of("3.5", "oz")
    assert doubt(shown("3.4", "oz", "0.2"), limit, Decimal(0)).under
    assert doubt(shown("3.6", "oz", "0.2"), limit, Decimal(0)).over


def test_load_is_counted_without_its_sign():
    assert tolerance_divisions(shown("-60.1", "oz", "0.1")) == 2
    assert tolerance_divisions(shown("0", "oz", "0.1")) == 1
    assert band(shown("0", "oz", "0.1"), Decimal(0), NOTHING).leaves_open(NOTHING)
