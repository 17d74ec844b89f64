"""The rule on modeled placements, short form; the long form is `scripts/long/settle`."""

from decimal import Decimal
from functools import cache

import pytest

from desk.scales.settling import SLACK_S
from tests.scales.bench_model import Setup, first_stable_flag, follow_and_hold

COUNT, SEED = 300, 7
follow = cache(follow_and_hold)
SETUPS = [Setup(), Setup(flag=False), Setup(rate=5), Setup(Decimal(1), "g")]


@pytest.mark.parametrize("setup", SETUPS, ids=str)
def test_no_wrong_weight_is_recorded_without_asking(setup):
    tally = follow(setup, COUNT, SEED)
    assert tally.items == COUNT
    assert tally.silent_wrong == 0
    assert tally.missed <= COUNT // 100
    assert 0 < tally.held <= COUNT // 8  # swaps without an empty pan, one placement in twelve
    assert tally.second == 0
    assert tally.median <= (1.0 if setup.flag else 1.2) + SLACK_S  # since the display was still


def test_a_faster_rule_makes_more_errors_on_the_same_placements():
    """The model can distinguish rules: a rule that takes the first stable flag records the weight of a hand."""
    hasty, ours = first_stable_flag(Setup(), COUNT, SEED), follow(Setup(), COUNT, SEED)
    assert hasty.silent_wrong > COUNT // 20
    assert hasty.first_wrong > 2 * ours.first_wrong
    assert hasty.median < ours.median


def test_the_long_test_prints_its_results():
    assert "silently wrong 0.00%" in follow_and_hold(Setup(), 60, 3).line()
