"""The approximate rates shipped with the program."""

from dataclasses import replace
from decimal import Decimal

import pytest

from desk.customs.declaration import CustomsRules
from desk.customs.exchange_rates import read_rough_rates
from desk.domain.exchange import converted
from desk.domain.money import Money
from tests.customs.conftest import EUR, RESOURCES, XDR

RATES = read_rough_rates(RESOURCES / "destinations" / "rates.csv")


@pytest.mark.parametrize(
    ("currency", "per_euro"),
    [("GBP", "0.8338"), ("JPY", "175.68"), ("CHF", "0.9194"), ("NOK", "10.312"), ("CAD", "1.5606"), ("AUD", "1.5904"),
     ("NZD", "1.9823"), ("KRW", "1491.76")],
)  # fmt: skip
def test_shipped_rates_agree_with_the_reference_rates(currency, per_euro):
    """European Central Bank, euro reference rates of 2026-10-30: units for one euro."""
    there = converted(Money.of(1000, "EUR"), currency, RATES)
    assert there is not None
    assert abs(there.amount / 1000 / Decimal(per_euro) - 1) < Decimal("0.00001")


def test_a_euro_is_worth_what_the_central_bank_says():
    """European Central Bank, euro reference rates of 2026-10-30: 1.1172 dollars."""
    assert converted(Money.of(100, "EUR"), "USD", RATES).cents() == Money(11172)


def test_every_shipped_rate_is_approximate_dated_and_sourced():
    assert len(RATES) == 29
    assert all(rate.rough and rate.source and rate.on.isoformat() == "2026-10-30" for rate in RATES)


def test_a_shipped_rate_does_not_count_as_the_shops_own(destinations, codes):
    rules = CustomsRules(destinations, codes, rates=(XDR, EUR))
    assert rules.sdr() == XDR
    assert replace(rules, rates=(replace(XDR, rough=True), EUR)).sdr() is None
