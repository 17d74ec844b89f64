"""What a piece may cost before it is weighed: the postage at every weight it may have, with the chance of each."""

from __future__ import annotations

import itertools
from bisect import bisect_left
from collections.abc import Sequence
from dataclasses import dataclass
from decimal import Decimal
from math import erf, sqrt

from desk.domain.weight import Weight
from desk.learning.explanations import PADDING_G
from desk.learning.parameters import Mishaps
from desk.learning.parcel import Expected
from desk.rates.case import open_case
from desk.session.verdict.judge import posting_of
from desk.session.verdict.verdict import Terms, Verdict

FARTHEST = 4.0  # standard deviations beyond which a weight is left out
PADDED = Mishaps().padding  # the chance of extra packing
OTHER = Mishaps().missing + Mishaps().extra  # of an item too few, too many, or in place of another
_OTHER_SHARES = (0.5, 1.25)  # of the weight with the right contents; common practice, no source
_PARTS = 8
_MIDDLES = tuple((at + 0.5) / _PARTS for at in range(_PARTS))


@dataclass(frozen=True, slots=True)
class PostageOdds:
    """The prices a piece may pay, in minor units by rising weight, and the limits in grams between them.

    `mean_g` and `deviation_g` are the mean and standard deviation of its weight with the right contents.
    """

    prices: tuple[int, ...]
    limits: tuple[float, ...]
    mean_g: float
    deviation_g: float

    def mean(self, shift_g: float = 0.0) -> float:
        """Return the expected postage in minor units, for a weight that is so many grams higher."""
        return sum(price * chance for price, chance in zip(self.prices, self._chances(shift_g), strict=True))

    def variance(self) -> float:
        """Return the variance of the postage, in square minor units."""
        mean = self.mean()
        chances = self._chances()
        return sum(chance * (price - mean) ** 2 for price, chance in zip(self.prices, chances, strict=True))

    def slope(self) -> float:
        """Return how much the expected postage rises with each gram, in minor units."""
        reach = self.deviation_g
        return (self.mean(reach) - self.mean(-reach)) / (2 * reach)

    def _chances(self, shift_g: float = 0.0) -> list[float]:
        below = [0.0, *(self._below(limit - shift_g) for limit in self.limits), 1.0]
        return [upper - lower for lower, upper in itertools.pairwise(below)]

    def _below(self, limit_g: float) -> float:
        """Return the chance of a weight up to a limit."""
        off = limit_g - self.mean_g
        padded = self._spread(off, *PADDING_G)
        other = self._spread(off, *((share - 1) * self.mean_g for share in _OTHER_SHARES))
        return (1 - PADDED - OTHER) * self._normal(off) + PADDED * padded + OTHER * other

    def _spread(self, off_g: float, low_g: float, high_g: float) -> float:
        """Return the chance of a weight up to a limit, where it is off by anything between two weights."""
        return sum(self._normal(off_g - low_g - (high_g - low_g) * middle) for middle in _MIDDLES) / _PARTS

    def _normal(self, off_g: float) -> float:
        return 0.5 * (1 + erf(off_g / (self.deviation_g * sqrt(2))))


def postage_odds(foreseen: Verdict, hoped: Expected, terms: Terms) -> PostageOdds | None:
    """Return what a piece may cost, from its verdict at one weight it may have; None where no service takes it then."""
    weighing = foreseen.case.weighing
    if weighing is None or foreseen.offer is None:
        return None
    case = open_case(posting_of(foreseen.case, weighing, foreseen.contents, terms), terms.price_rules)
    label = float(terms.shop.policy.label_weight.grams)
    deviation = max(sqrt(hoped.variance), 1e-6)
    fewest, most = _OTHER_SHARES
    low = Weight(Decimal(max(hoped.grams * fewest + label - FARTHEST * deviation, 0.0)))
    high = Weight(Decimal(max(hoped.grams + PADDING_G[1], hoped.grams * most) + label + FARTHEST * deviation))
    limits = case.limits_between(low, high)
    ranked = [case.step_at(weight).ranked for weight in (*limits, high)]
    prices = _filled([offers[0].price.minor if offers else None for offers in ranked])
    if not prices:
        return None
    return PostageOdds(prices, tuple(float(limit.grams) - label for limit in limits), hoped.grams, deviation)


def _filled(prices: Sequence[int | None]) -> tuple[int, ...]:
    """Return the prices; where no service takes that weight, the nearest one below, else above."""
    known = [place for place, price in enumerate(prices) if price is not None]
    if not known:
        return ()
    nearest = [known[max(bisect_left(known, place + 1) - 1, 0)] for place in range(len(prices))]
    return tuple(price for place in nearest if (price := prices[place]) is not None)
