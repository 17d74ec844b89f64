"""What a piece may cost before it is weighed, with the chance of each price."""

from __future__ import annotations

from decimal import Decimal
from statistics import NormalDist

import pytest

from desk.domain.weight import Weight
from desk.learning.parcel import Expected
from desk.session.verdict.postage_odds import OTHER, PADDED, PostageOdds, _filled, postage_odds
from desk.session.verdict.verdict import Terms
from tests.session import made

STEP = PostageOdds((100, 200), (10_000.0,), 10_000.0, 1.0)  # so heavy that other contents are far away


def test_a_weight_at_the_limit_has_both_prices_at_equal_odds():
    """Extra packing pays the higher one, and other contents the lower one in four of six parts of their range."""
    dearer = (1 - PADDED - OTHER) / 2 + PADDED + OTHER * 3 / 8
    assert STEP.mean() == pytest.approx(100 + 100 * dearer, abs=0.01)
    assert STEP.variance() == pytest.approx(100**2 * dearer * (1 - dearer), abs=1)


@pytest.mark.parametrize("off", [-1.0, 0.0, 1.0])
def test_the_chance_is_that_of_the_normal_distribution(off):
    dearer = (1 - PADDED - OTHER) * NormalDist().cdf(-off) + PADDED + OTHER * 3 / 8
    odds = PostageOdds((100, 200), (10_000.0 + off,), 10_000.0, 1.0)
    assert odds.mean() == pytest.approx(100 + 100 * dearer, abs=0.5)


def test_the_expected_postage_rises_with_the_weight():
    assert STEP.slope() > 0
    assert STEP.mean(2.0) > STEP.mean() > STEP.mean(-2.0)
    assert PostageOdds((100,), (), 50.0, 2.0).slope() == pytest.approx(0)
    within = NormalDist().cdf(1) - NormalDist().cdf(-1)  # of the weights that a deviation moves over the limit
    assert STEP.slope() == pytest.approx(100 * (1 - PADDED - OTHER) * within / 2, abs=0.5)
    assert PostageOdds((100,), (), 50.0, 2.0).variance() == pytest.approx(0)


@pytest.mark.parametrize(
    ("prices", "filled"),
    [((None, 5, None, 7, None), (5, 5, 5, 7, 7)), ((None, None), ()), ((3,), (3,)), ((None, 4), (4, 4))],
)
def test_a_weight_that_no_service_takes_has_the_nearest_price(prices, filled):
    assert _filled(prices) == filled


def test_the_prices_are_those_of_the_list(judged, terms):
    """Notice 123, list of July 12, 2026: a stamped letter pays $0.82 up to 1 oz and $1.11 up to 2 oz."""
    hoped = Expected(28.3, 26.3, 30.3, 1.0, 0.1, 1.0, can_judge=True)
    odds = postage_odds(judged("0.9", "A7"), hoped, terms)
    assert odds is not None
    at = next(place for place, limit in enumerate(odds.limits) if abs(limit - 28.349523125) < 1e-6)
    assert odds.prices[at : at + 2] == (82, 111)
    assert 82 < odds.mean() < 111
    assert postage_odds(judged(None), hoped, terms) is None


def test_a_label_added_later_is_included(judged, terms):
    shop = made.shop(policy=made.policy(label_weight=Weight(Decimal(5))))
    own = Terms(shop, terms.rulebook, terms.on)
    odds = postage_odds(judged("0.7", "A7", shop=shop), Expected(23.0, 21.0, 25.0, 1.0, 0.1, 1.0, can_judge=True), own)
    assert odds is not None
    assert any(abs(limit - 23.349523125) < 1e-6 for limit in odds.limits)
