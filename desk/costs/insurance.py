"""Whether insurance is worth its fee: the fee as a share of the value, compared with this shop's losses."""

from __future__ import annotations

from dataclasses import dataclass
from math import sqrt

from desk.domain.money import Money

Z95 = 1.959964


@dataclass(frozen=True, slots=True)
class LossRate:
    """Lost packages out of those sent, with a 95 % Wilson score interval (Wilson 1927), all from 0 to 1."""

    lost: int
    sent: int

    @property
    def share(self) -> float:
        """Return the share lost; 0 when nothing was sent."""
        return self.lost / self.sent if self.sent else 0.0

    @property
    def interval(self) -> tuple[float, float]:
        """Return the interval; (0, 1) when nothing was sent."""
        if not self.sent:
            return 0.0, 1.0
        share, square = self.share, Z95 * Z95
        middle = (share + square / (2 * self.sent)) / (1 + square / self.sent)
        spread = share * (1 - share) / self.sent + square / (4 * self.sent**2)
        reach = Z95 * sqrt(spread) / (1 + square / self.sent)
        return max(middle - reach, 0.0), min(middle + reach, 1.0)


@dataclass(frozen=True, slots=True)
class InsuranceAdvice:
    """The share of packages that must be lost for insurance to pay off, compared with the shop's own losses.

    `worth_it` is None while that share is within the loss rate's interval.
    """

    needed_share: float
    rate: LossRate
    worth_it: bool | None


def insurance_advice(fee: Money, value: Money, included: Money, rate: LossRate) -> InsuranceAdvice:
    """Return whether insuring the value pays off, beyond the cover included in the price.

    Raises:
        ValueError: the included cover is at least the value, so there is nothing to insure.
    """
    at_risk = (value - included).minor
    if at_risk <= 0:
        raise ValueError("the price covers the value already")
    needed = fee.minor / at_risk
    low, high = rate.interval
    worth = True if low > needed else False if high < needed else None
    return InsuranceAdvice(needed, rate, worth)
