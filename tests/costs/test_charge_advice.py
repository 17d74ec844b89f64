"""What to charge, against numpy's own percentiles and means."""

from __future__ import annotations

import random

import numpy as np
import pytest

from desk.costs.charge_advice import Interval, advice, curve
from desk.domain.money import Money

COSTS = [420, 455, 455, 480, 510, 525, 560, 610, 700, 1250]


def given(costs=COSTS):
    return advice("United States", [Money(cost) for cost in costs])


@pytest.mark.parametrize("share", [0.1, 0.5, 0.89, 0.9, 0.91, 1.0])
@pytest.mark.parametrize("size", [1, 10, 37])
def test_the_covering_charge_equals_the_percentile_from_numpy(share, size):
    chance = random.Random(size)
    costs = [chance.randint(300, 2000) for _ in range(size)]
    assert given(costs).covering(share).minor == np.quantile(costs, share, method="inverted_cdf")


def test_break_even_is_the_mean_rounded_up_to_the_cent():
    assert given().break_even == Money(int(np.ceil(np.mean(COSTS))))


@pytest.mark.parametrize(("charge", "losing"), [(699, 2), (700, 1), (1249, 1), (1250, 0), (0, 10)])
def test_an_order_loses_when_it_costs_more_than_the_charge(charge, losing):
    assert given().at(Money(charge)).losing == losing


def test_the_average_margin_is_the_charge_minus_the_mean_cost():
    assert given().at(Money(700)).average_margin == Money(round(700 - np.mean(COSTS)))


def test_the_curve_equals_the_costs_computed_charge_by_charge():
    charges = [Money(cents) for cents in range(0, 1500, 50)]
    assert curve(given(), charges) == [given().at(charge) for charge in charges]


def test_the_interval_contains_the_figure_and_narrows_with_more_orders():
    few, many = (given(range(300, 1300, step)) for step in (50, 1))
    for some in (few, many):
        interval = some.covering_interval(0.5)
        assert interval.low <= some.covering(0.5).minor <= interval.high
    wide, narrow = (some.covering_interval(0.5) for some in (few, many))
    assert narrow.high - narrow.low < (wide.high - wide.low) / 2


@pytest.mark.parametrize(("orders", "enough"), [(29, False), (30, True)])
def test_thirty_orders_are_enough_for_advice(orders, enough):
    assert given([500] * orders).is_enough is enough


@pytest.mark.parametrize("costs", [[], [Money(1), Money(1, "EUR")]])
def test_two_currencies_are_never_added(costs):
    with pytest.raises(ValueError, match="one currency"):
        advice("x", costs)


@pytest.mark.parametrize("share", [0, -0.1, 1.01])
def test_a_share_must_be_above_zero_and_at_most_one(share):
    with pytest.raises(ValueError, match="share"):
        given().covering(share)


def test_an_interval_runs_from_the_low_end_to_the_high_end():
    """Of one cost alone every resample is that cost; of two, both ends turn up."""
    assert given([500]).covering_interval(0.9) == Interval(500, 500)
    ends = given([100, 900]).covering_interval(0.5)
    assert (ends.low, ends.high) == (100, 900)
