"""Exchange: a limit in other money, tested with the shop's own dated rates.

Nothing on a declaration is ever converted. A conversion serves one question only: is this value over that limit?
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date
from decimal import ROUND_HALF_UP, Decimal

from desk.domain.finding import Fact
from desk.domain.money import Money, decimals_of
from desk.domain.shop.shop import ExchangeRate

STALE_AFTER_DAYS = 30  # common practice, no source: an older rate is used, and its age is told


@dataclass(frozen=True, slots=True)
class Converted:
    """An exact amount in `currency`, and the day of the oldest rate used (None: nothing had to be converted)."""

    amount: Decimal
    currency: str
    rate_on: date | None = None

    def cents(self) -> Money:
        """The amount to the nearest minor unit, half up: the figure a person would compare."""
        unit = Decimal(1).scaleb(-decimals_of(self.currency))
        return Money.of(self.amount.quantize(unit, ROUND_HALF_UP), self.currency)

    def facts(self, on: date) -> dict[str, Fact]:
        """What a sentence needs to know of the rate; empty when none was used."""
        if self.rate_on is None:
            return {}
        age = (on - self.rate_on).days
        return {"rate_on": self.rate_on.isoformat(), "rate_age_days": age, "rate_stale": age > STALE_AFTER_DAYS}


def converted(value: Money, to: str, rates: Sequence[ExchangeRate]) -> Converted | None:
    """The value in other money: by a rate between the two either way round, else by way of dollars; None without."""
    if value.currency == to:
        return Converted(value.amount, to)
    direct = _rate(value.currency, to, rates)
    if direct is not None:
        return Converted(value.amount * direct[0], to, direct[1])
    first, second = _rate(value.currency, "USD", rates), _rate("USD", to, rates)
    if first is None or second is None:
        return None
    return Converted(value.amount * first[0] * second[0], to, min(first[1], second[1]))


def _rate(given: str, wanted: str, rates: Sequence[ExchangeRate]) -> tuple[Decimal, date] | None:
    for rate in rates:
        if (rate.from_currency, rate.to_currency) == (given, wanted):
            return rate.rate, rate.on
        if (rate.from_currency, rate.to_currency) == (wanted, given) and rate.rate:
            return 1 / rate.rate, rate.on
    return None
