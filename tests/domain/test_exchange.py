"""Conversions are used only for limits, with the shop's own rates."""

from dataclasses import replace
from datetime import date, timedelta
from decimal import Decimal

import pytest

from desk.domain.exchange import Converted, converted, old_rates
from desk.domain.money import Money
from desk.domain.shop.shop import ExchangeRate
from tests.customs.conftest import EUR, TODAY, XDR, usd

GBP = ExchangeRate("GBP", "USD", Decimal("1.25"), date(2026, 10, 1))


def test_the_same_currency_needs_no_rate():
    assert converted(usd("5.00"), "USD", []) == Converted(Decimal("5.00"), "USD")


def test_a_rate_is_used_in_both_directions():
    assert converted(Money.of("100", "EUR"), "USD", [EUR]) == Converted(Decimal("110.00"), "USD", (EUR,))
    back = converted(usd("110.00"), "EUR", [EUR])
    assert back is not None
    assert back.cents() == Money.of("100.00", "EUR")


def test_two_rates_are_combined_through_dollars_and_the_older_day_counts():
    there = converted(Money.of("88.00", "GBP"), "EUR", [EUR, GBP])
    assert there is not None
    assert there.cents() == Money.of("100.00", "EUR")
    assert there.rate_on == GBP.on


@pytest.mark.parametrize(
    ("value", "to"), [(Money.of("5", "EUR"), "USD"), (Money.of("5", "EUR"), "GBP"), (usd("5"), "NOK")]
)
def test_without_a_rate_no_amount_is_converted(value, to):
    assert converted(value, to, [GBP] if to == "GBP" else []) is None


def test_a_rate_of_zero_is_not_inverted():
    assert converted(usd("5"), "EUR", [ExchangeRate("EUR", "USD", Decimal(0), TODAY)]) is None


def test_cents_are_rounded_half_up_in_the_decimals_of_the_currency():
    assert Converted(Decimal("411.828"), "USD").cents() == usd("411.83")
    assert Converted(Decimal("0.005"), "USD").cents() == usd("0.01")
    assert Converted(Decimal("99.5"), "JPY").cents() == Money(100, "JPY")


@pytest.mark.parametrize(
    ("on", "age", "stale"),
    [(date(2026, 5, 21), 30, False), (date(2026, 5, 22), 31, True), (date(2026, 4, 21), 0, False)],
)
def test_the_age_of_the_rate_is_reported(on, age, stale):
    there = converted(Money.of("300", "XDR"), "USD", [replace(XDR, on=date(2026, 4, 21))])
    assert there is not None
    assert there.facts(on) == {"rate_on": "2026-04-21", "rate_age_days": age, "rate_stale": stale}


def test_without_a_rate_there_is_no_rate_age():
    assert Converted(Decimal(1), "USD").facts(TODAY) == {}


@pytest.mark.parametrize(
    ("amount", "rough", "over"),
    [
        ("100.00", False, False),
        ("100.01", False, True),
        ("80.00", True, False),  # a quarter more is at the limit, not over it
        ("80.01", True, None),
        ("125.00", True, None),
        ("125.01", True, True),
    ],
)
def test_an_approximate_rate_leaves_values_near_the_limit_undecided(amount, rough, over):
    rate = ExchangeRate("EUR", "USD", Decimal(1), TODAY, rough=rough)
    there = converted(Money.of(amount, "EUR"), "USD", [rate])
    assert there is not None
    assert there.is_over(usd("100.00")) is over


def test_a_value_at_the_limit_is_over_it_where_the_limit_is_exclusive():
    there = converted(usd("100.00"), "USD", [])
    assert there is not None
    assert (there.is_over(usd("100.00")), there.is_over(usd("100.00"), reached=True)) == (False, True)


def test_old_rates_are_listed_oldest_first_each_once():
    fresh, old = replace(EUR, on=TODAY - timedelta(days=30)), replace(GBP, on=TODAY - timedelta(days=31))
    older = replace(EUR, on=TODAY - timedelta(days=90))
    assert old_rates([fresh, old, older, old], TODAY) == (older, old)
