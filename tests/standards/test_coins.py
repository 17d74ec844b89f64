"""Coins as check weights, against what the Mint publishes."""

from decimal import Decimal

import pytest

from desk.domain.weight import OUNCE_G
from desk.session.scale.coin_check import COINS, coins

MINT = "United States Mint, Coin Specifications (from memory)"
TABLE = [
    ("cent", "2.500", MINT),
    ("nickel", "5.000", MINT),
    ("dime", "2.268", MINT),
    ("quarter", "5.670", MINT),
    ("half dollar", "11.340", MINT),
]


@pytest.mark.parametrize(("coin", "grams", "source"), TABLE)
def test_coins_have_the_weight_the_mint_publishes(coin, grams, source):
    assert coins(coin, 1).weight.grams == Decimal(grams), source


def test_no_other_coin_is_offered():
    assert set(COINS) == {coin for coin, _, _ in TABLE}


def test_five_quarters_weigh_an_ounce_to_half_a_milligram():
    """Worked out: 5 x 5.670 g = 28.350 g; the ounce is 28.349523125 g."""
    five = coins("quarter", 5).weight.grams
    assert five == Decimal("28.350")
    assert abs(five - OUNCE_G) < Decimal("0.0005")


def test_the_weights_of_dime_quarter_and_half_dollar_follow_their_value():
    """Worked out: ten dimes, four quarters and two half dollars weigh the same, 22.68 g a dollar."""
    assert COINS["dime"][1] * 10 == COINS["quarter"][1] * 4 == COINS["half dollar"][1] * 2 == Decimal("22.680")
