"""What to charge for shipping, from what past orders cost: how many would lose money, and what would be enough.

Percentiles are the smallest cost that covers the share (the inverse of the empirical distribution; Hyndman and Fan
1996, definition 1). Intervals are bootstrap percentile intervals (Efron 1979).
"""

from __future__ import annotations

import random
from bisect import bisect_right
from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass
from math import ceil

from desk.domain.money import Money

FEWEST_ORDERS = 30  # below it the shop's own history is too short; common practice, no source
RESAMPLES = 500
MOST_RESAMPLED = 1000


@dataclass(frozen=True, slots=True)
class Interval:
    """The middle 95 of 100 resampled values, in minor units."""

    low: int
    high: int


@dataclass(frozen=True, slots=True)
class ChargeOutcome:
    """The effect of one charge: orders that lose money, and the average margin (minor units, rounded)."""

    charge: Money
    losing: int
    orders: int
    average_margin: Money

    @property
    def share_losing(self) -> float:
        """Return the share of orders that lose money, from 0 to 1."""
        return self.losing / self.orders


@dataclass(frozen=True, slots=True)
class ChargeAdvice:
    """What a group of orders cost to send, sorted, and the charges that follow. All in one currency."""

    group: str
    costs: tuple[int, ...]  # minor units, ascending
    currency: str

    @property
    def is_enough(self) -> bool:
        """Return True when there are enough orders."""
        return len(self.costs) >= FEWEST_ORDERS

    @property
    def break_even(self) -> Money:
        """Return the charge at which all orders together break even, rounded up to the minor unit."""
        return Money(ceil(sum(self.costs) / len(self.costs)), self.currency)

    def covering(self, share: float) -> Money:
        """Return the smallest charge that covers that share of orders. Raises ValueError for a share outside (0, 1]."""
        if not 0 < share <= 1:
            raise ValueError(f"a share is above 0 and at most 1: {share}")
        return Money(_quantile(self.costs, share), self.currency)

    def at(self, charge: Money) -> ChargeOutcome:
        """Return the effect of a charge on these orders."""
        losing = len(self.costs) - bisect_right(self.costs, charge.minor)
        average = charge.minor - sum(self.costs) / len(self.costs)
        return ChargeOutcome(charge, losing, len(self.costs), Money(round(average), self.currency))

    def covering_interval(self, share: float, seed: int = 1) -> Interval:
        """Return the 95% interval of `covering`."""
        return _interval(self.costs, lambda costs: _quantile(sorted(costs), share), seed)


def advice(group: str, costs: Iterable[Money]) -> ChargeAdvice:
    """Return the advice for a group. Raises ValueError without orders or with two currencies."""
    sent = list(costs)
    currencies = {cost.currency for cost in sent}
    if len(currencies) != 1:
        raise ValueError("orders of one currency are needed")
    return ChargeAdvice(group, tuple(sorted(cost.minor for cost in sent)), currencies.pop())


def curve(advice: ChargeAdvice, charges: Iterable[Money]) -> list[ChargeOutcome]:
    """Return the effect of several charges, for a chart and its table."""
    return [advice.at(charge) for charge in charges]


def _quantile(costs: Sequence[int], share: float) -> int:
    return costs[max(ceil(round(share * len(costs), 9)), 1) - 1]


def _interval(costs: Sequence[int], of: Callable[[Sequence[int]], int], seed: int) -> Interval:
    chance = random.Random(seed)  # noqa: S311 - resampling, nothing secret
    some = costs if len(costs) <= MOST_RESAMPLED else chance.sample(costs, MOST_RESAMPLED)
    values = sorted(of(chance.choices(some, k=len(some))) for _ in range(RESAMPLES))
    return Interval(_quantile(values, 0.025), _quantile(values, 0.975))
