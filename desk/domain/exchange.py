"""Exchange: compare a value with a limit in another currency, by dated rates.

The shop's own rates come first. The program ships a rough set for the rest: a rough rate only settles what is clearly
under or clearly over a limit.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import date
from decimal import ROUND_HALF_UP, Decimal

from desk.domain.finding import Fact
from desk.domain.money import Money, decimals_of
from desk.domain.shop.shop import ExchangeRate

STALE_AFTER_DAYS = 30  # common practice, no source: an older rate is used, and its age is reported
ROUGHLY = Decimal("1.25")  # a rough rate may be off by this factor; common practice, no source


@dataclass(frozen=True, slots=True)
class Converted:
    """An exact amount in `currency`, and the rates used, none when nothing had to be converted."""

    amount: Decimal
    currency: str
    rates: tuple[ExchangeRate, ...] = ()

    @property
    def rate_on(self) -> date | None:
        """Return the day of the oldest rate used; None for none."""
        return min((rate.on for rate in self.rates), default=None)

    @property
    def is_rough(self) -> bool:
        """Return True when a rate that came with the program was used."""
        return any(rate.rough for rate in self.rates)

    @property
    def most(self) -> Decimal:
        """Return the most this can be worth: more than the amount when the rate is rough."""
        return self.amount * ROUGHLY if self.is_rough else self.amount

    def is_over(self, limit: Money, *, reached: bool = False) -> bool | None:
        """Return whether it is over a limit (`reached`: at it or over it); None where a rough rate leaves that open."""
        least = self.amount / ROUGHLY if self.is_rough else self.amount
        low, high = (amount > limit.amount or (reached and amount == limit.amount) for amount in (least, self.most))
        return low if low == high else None

    def cents(self) -> Money:
        """Return the amount to the nearest minor unit, half up: the figure a person would compare."""
        unit = Decimal(1).scaleb(-decimals_of(self.currency))
        return Money.of(self.amount.quantize(unit, ROUND_HALF_UP), self.currency)

    def most_cents(self) -> Money:
        """Return `most` to the nearest minor unit, half up."""
        return Converted(self.most, self.currency).cents()

    def facts(self, on: date) -> dict[str, Fact]:
        """Return the facts of the rate for a sentence; empty when none was used."""
        if self.rate_on is None:
            return {}
        age = (on - self.rate_on).days
        return {"rate_on": self.rate_on.isoformat(), "rate_age_days": age, "rate_stale": age > STALE_AFTER_DAYS}


def converted(value: Money, to: str, rates: Sequence[ExchangeRate]) -> Converted | None:
    """Return the value in other money: by a rate between the two, else by way of dollars; None without a rate."""
    if value.currency == to:
        return Converted(value.amount, to)
    if (direct := _factor(value.currency, to, rates)) is not None:
        return Converted(value.amount * direct[0], to, (direct[1],))
    first, second = _factor(value.currency, "USD", rates), _factor("USD", to, rates)
    if first is None or second is None:
        return None
    return Converted(value.amount * first[0] * second[0], to, (first[1], second[1]))


def in_money(value: Money, to: str, rates: Sequence[ExchangeRate]) -> Money | None:
    """Return the value in other money, to the nearest minor unit, half up; None without a rate."""
    if value.currency == to:
        return value
    there = converted(value, to, rates)
    return there.cents() if there is not None else None


def old_rates(used: Iterable[ExchangeRate], on: date) -> tuple[ExchangeRate, ...]:
    """Return the rates that are more than 30 days old on a day, each once, the oldest first."""
    old = {rate for rate in used if (on - rate.on).days > STALE_AFTER_DAYS}
    return tuple(sorted(old, key=lambda rate: (rate.on, rate.from_currency)))


def _factor(from_currency: str, wanted: str, rates: Sequence[ExchangeRate]) -> tuple[Decimal, ExchangeRate] | None:
    for rate in rates:
        if (rate.from_currency, rate.to_currency) == (from_currency, wanted):
            return rate.rate, rate
        if (rate.from_currency, rate.to_currency) == (wanted, from_currency) and rate.rate:
            return 1 / rate.rate, rate
    return None
