"""Insurance compared with the shop's own losses: Wilson's interval, and no decision while the fee is inside it."""

from __future__ import annotations

import pytest

from desk.costs.insurance import LossRate, insurance_advice
from desk.domain.money import Money


def test_the_wilson_interval_equals_a_published_example():
    """Newcombe 1998 (Statistics in Medicine 17), table I: 81 of 263 gives 0.2553 to 0.3662; from memory."""
    low, high = LossRate(81, 263).interval
    assert (low, high) == (pytest.approx(0.2553, abs=5e-5), pytest.approx(0.3662, abs=5e-5))


def test_no_losses_so_far_still_leave_an_upper_bound():
    low, high = LossRate(0, 20).interval
    assert low == 0
    assert high == pytest.approx(0.1611, abs=5e-5)  # Newcombe 1998, table I: 0 of 20; from memory
    assert LossRate(0, 0).interval == (0, 1)


@pytest.mark.parametrize(
    ("fee", "value", "included", "rate", "worth"),
    [
        (350, 10_000, 0, LossRate(0, 2000), False),  # needs 3.5 lost in a hundred; the shop loses fewer than 0.2
        (350, 10_000, 0, LossRate(30, 100), True),
        (350, 10_000, 0, LossRate(1, 30), None),
    ],
)
def test_insurance_is_advised_by_the_losses_of_the_shop(fee, value, included, rate, worth):
    advice = insurance_advice(Money(fee), Money(value), Money(included), rate)
    assert advice.worth_it is worth
    assert advice.needed_share == pytest.approx(fee / (value - included))


def test_a_value_that_is_covered_needs_no_insurance():
    with pytest.raises(ValueError, match="covers"):
        insurance_advice(Money(350), Money(10_000), Money(10_000), LossRate(0, 10))


def test_only_what_the_price_does_not_cover_is_at_risk():
    """A fee of $3.50 on $200 with $100 included is 3.5% of what is at risk, and 1.75% with nothing included."""
    assert insurance_advice(Money(350), Money(20_000), Money(10_000), LossRate(1, 30)).needed_share == 0.035
    assert insurance_advice(Money(350), Money(20_000), Money(0), LossRate(1, 30)).needed_share == 0.0175
    assert insurance_advice(Money(1), Money(10_001), Money(10_000), LossRate(0, 10)).needed_share == 1


def test_an_interval_stays_between_zero_and_one():
    assert LossRate(20, 20).interval[1] == pytest.approx(1)
    assert LossRate(20, 20).interval[0] == pytest.approx(0.8389, abs=5e-5)  # the other end of 0 of 20


@pytest.mark.parametrize(("fee", "worth"), [(0, None), (10_000, None)])
def test_a_fee_equal_to_the_end_of_the_interval_decides_nothing(fee, worth):
    """Without any parcel sent the interval is 0 to 1: a fee of zero and one of the whole value are its ends."""
    assert insurance_advice(Money(fee), Money(10_000), Money(0), LossRate(0, 0)).worth_it is worth
