"""Stamps: what each kind is worth on a day, and the best lawful set from the drawer.

Sources: DMM 604.1.1 (Postal Bulletin 22484) for Forever, additional-ounce, two-ounce, nonmachinable and semipostal
stamps; from memory for three-ounce, postcard and Global Forever stamps, and for any stamp counting on other mail at its
value that day.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from datetime import date
from functools import lru_cache
from typing import NamedTuple

from desk.domain.money import Money
from desk.domain.shop.stamp import StampKind, StampStock
from desk.domain.weight import Weight, WeightUnit
from desk.rates.lists.chart import Charts
from desk.rates.services import LETTER_ABROAD, POSTCARD, STAMPED_LETTER


class StampCount(NamedTuple):
    """A number of one stamp. `value` is the printed value as the drawer has it, None for stamps without one."""

    kind: StampKind
    value: Money | None
    number: int


@dataclass(frozen=True, slots=True)
class StampSet:
    """The stamps to use, highest value first, and how much they exceed the postage."""

    stamps: tuple[StampCount, ...]
    overpaid: Money

    def words(self) -> str:
        """Return the set as text: `1 forever + 1 additional_ounce`; printed values follow the kind: `2 face 0.10`."""
        return " + ".join(
            f"{number} {kind}" + (f" {value.text()}" if value is not None else "")
            for kind, value, number in self.stamps
        )


def stamp_values(charts: Charts, on: date) -> dict[StampKind, Money]:
    """Return each unprinted kind's value on that day; a kind no list can price is left out."""
    one, two, three = (_price(charts, STAMPED_LETTER, on, ounces) for ounces in (1, 2, 3))
    letter = charts.in_force(STAMPED_LETTER, on)
    surcharge = letter.surcharge("nonmachinable") if letter else None
    worth = {
        StampKind.FOREVER: one,
        StampKind.SEMIPOSTAL: one,
        StampKind.ADDITIONAL_OUNCE: two - one if one and two else None,
        StampKind.TWO_OUNCE: two,
        StampKind.THREE_OUNCE: three,
        StampKind.NONMACHINABLE: one + surcharge.amount if one and surcharge else None,
        StampKind.POSTCARD: _price(charts, POSTCARD, on, 1),
        StampKind.GLOBAL_FOREVER: _price(charts, LETTER_ABROAD, on, 1),
    }
    return {kind: money for kind, money in worth.items() if money is not None}


def _price(charts: Charts, service: str, on: date, ounces: int) -> Money | None:
    """Return a service's price at a whole ounce; with price groups, the first group's (all agree at one ounce)."""
    chart = charts.in_force(service, on)
    if chart is None:
        return None
    row = chart.row(Weight.of(ounces, WeightUnit.OUNCE), next(iter(chart.rows), ""))
    return row.price if row else None


def worth_of(stamps: Iterable[StampCount], values: Mapping[StampKind, Money], currency: str) -> Money:
    """Return the total value of stamps on a day; those in another currency or without a price count as zero."""
    worths = ((stamp.value or values.get(stamp.kind), stamp.number) for stamp in stamps)
    return Money(
        sum(worth.minor * number for worth, number in worths if worth and worth.currency == currency), currency
    )


def choose_stamps(
    postage: Money,
    drawer: Sequence[StampStock],
    values: Mapping[StampKind, Money],
    max_stamps: int | None = None,
    *,
    abroad: bool = False,
) -> StampSet | None:
    """Return the set that overpays least, with the fewest stamps among equals; None when there is none.

    Global Forever stamps are used only for mail abroad: they count on domestic mail (from memory), but are wasted
    there. Of stamps with equal value, those first in the drawer go first.
    """
    stock = usable_stamps(postage, drawer, values, abroad=abroad)
    most_expensive = stock[0][0] if stock else 0
    worths = tuple(worth for worth, _ in stock)
    useful = tuple(min(one.count, -(-(postage.minor + most_expensive) // worth)) for worth, one in stock)
    counts = _best(worths, useful, postage.minor, max_stamps)
    if counts is None:
        return None
    used = [(worth, one, count) for (worth, one), count in zip(stock, counts, strict=True) if count]
    paid = sum(worth * count for worth, _, count in used)
    stamps = tuple(StampCount(one.kind, one.value, count) for _, one, count in used)
    return StampSet(stamps, Money(paid - postage.minor, postage.currency))


def stamps_to_buy(
    postage: Money,
    drawer: Sequence[StampStock],
    values: Mapping[StampKind, Money],
    max_stamps: int | None = None,
    *,
    abroad: bool = False,
) -> StampSet | None:
    """Return the best set if you could buy any stamp without a printed value, or any printed value in the drawer.

    None when no allowed number of stamps reaches the postage. Semipostal stamps are left out: part of their price is a
    donation.
    """
    plenty = max(postage.minor, 1)
    kinds = [StampStock(kind, plenty) for kind in values if kind is not StampKind.SEMIPOSTAL]
    faces = {one.value: StampStock(StampKind.FACE, plenty, one.value) for one in drawer if one.kind is StampKind.FACE}
    return choose_stamps(postage, [*kinds, *faces.values()], values, max_stamps, abroad=abroad)


def usable_stamps(
    postage: Money, drawer: Sequence[StampStock], values: Mapping[StampKind, Money], *, abroad: bool
) -> list[tuple[int, StampStock]]:
    """Return the stock that may pay a postage, with its value in minor units, highest value first."""
    stock = []
    for one in drawer:
        worth = one.value if one.kind is StampKind.FACE else values.get(one.kind)
        foreign = worth is None or worth.currency != postage.currency
        if foreign or worth is None or worth.minor <= 0 or one.count <= 0:
            continue
        if abroad or one.kind is not StampKind.GLOBAL_FOREVER:
            stock.append((worth.minor, one))
    return sorted(stock, key=lambda entry: -entry[0])


@lru_cache(maxsize=4096)  # stamps for 400 pieces one after another: 0.01 s with it, 0.06 without
def _best(worths: tuple[int, ...], counts: tuple[int, ...], target: int, most: int | None) -> tuple[int, ...] | None:
    """Return the best counts; cached, because a batch needs the same postage again and again."""
    return _Search(worths, counts).best(target, most)


class _Search:
    """An exact search. `worths` descend; there are `counts` of each stamp.

    Bit sets hold the possible sums: bit s of `reach[i]` is set when stamps i and later can make s. That gives the
    least overpayment at once. The fewest stamps for that sum are then found depth first, highest value first, cutting
    off where even the highest remaining values could not beat the best set so far.
    """

    def __init__(self, worths: Sequence[int], counts: Sequence[int]) -> None:
        self.worths = worths
        self.counts = counts
        self.reach: list[int] = []
        self.fewest = 0
        self.found: tuple[int, ...] | None = None
        self.seen: dict[tuple[int, int], int] = {}

    def best(self, target: int, most: int | None) -> tuple[int, ...] | None:
        """Return how many of each stamp, or None. A set that overpays by one of its own stamps is never the best."""
        if target <= 0:
            return (0,) * len(self.worths)
        bound = target + max(self.worths, default=0)
        mask = (1 << bound) - 1
        self.reach = self._reach(mask)
        sums = (self.reach[0] if most is None else self.reach[0] & self._few(most, mask)) >> target << target
        while sums:
            total = (sums & -sums).bit_length() - 1
            self.found, self.seen = None, {}
            self.fewest = total + 1 if most is None else most + 1
            self._descend(0, total, ())
            if self.found is not None:
                return self.found
            sums &= sums - 1
        return None

    def _few(self, most: int, mask: int) -> int:
        """Return the sums that `most` stamps can make with an unlimited stock: no other needs to be tried."""
        sums = 1
        for _ in range(most):
            more = sums
            for worth in self.worths:
                more |= sums << worth & mask
            if more == sums:
                break
            sums = more
        return sums

    def _reach(self, mask: int) -> list[int]:
        reach = [1]
        for worth, count in zip(reversed(self.worths), reversed(self.counts), strict=True):
            sums, part, left = reach[-1], 1, count
            while left:  # 1, 2, 4 ... and the rest: every number up to the count is a sum of these
                part = min(part, left)
                sums |= sums << part * worth & mask
                left, part = left - part, part * 2
            reach.append(sums)
        return reach[::-1]

    def _descend(self, place: int, left: int, taken: tuple[int, ...]) -> None:
        """Try every number of stamp `place` that can still lead to a better set making `left`."""
        used = sum(taken)
        if left == 0:
            if used < self.fewest:
                self.fewest = used
                self.found = taken + (0,) * (len(self.worths) - place)
            return
        if self.seen.get((place, left), used + 1) <= used:
            return
        self.seen[place, left] = used
        worth = self.worths[place]
        following = self.worths[place + 1] if place + 1 < len(self.worths) else worth
        for count in range(min(self.counts[place], left // worth), -1, -1):
            rest = left - count * worth
            if used + count - (-rest // following) >= self.fewest:
                return  # fewer of this stamp only means more of the cheaper ones
            if self.reach[place + 1] >> rest & 1:
                self._descend(place + 1, rest, (*taken, count))
