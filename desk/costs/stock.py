"""What is on hand of one kind, and what it cost: purchases are used first in, first out.

The cost of a lot is divided by cumulative shares, so that all its pieces together cost exactly what was paid.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from datetime import date

from desk.domain.money import Money

USED, SPOILED = "used", "spoiled"


@dataclass(frozen=True, slots=True)
class Lot:
    """A purchase of several of one kind at one price for all; price None: found on hand, so its cost is unknown."""

    day: date
    count: int
    price: Money | None = None


@dataclass(frozen=True, slots=True)
class Taken:
    """Some of one kind that left: `why` is `used` or `spoiled`, `piece_id` the piece it was used on."""

    day: date
    count: int
    why: str = USED
    piece_id: int | None = None


@dataclass(frozen=True, slots=True)
class CostedUse:
    """What left, with its cost; None where any of it was on hand without a price, or more left than ever came."""

    taken: Taken
    cost: Money | None


@dataclass(frozen=True, slots=True)
class StockFlow:
    """Counts, and costs in minor units, over some days: opening + bought - used - spoiled = closing, in both."""

    opening: tuple[int, int]
    bought: tuple[int, int]
    used: tuple[int, int]
    spoiled: tuple[int, int]
    closing: tuple[int, int]


def costed(lots: Iterable[Lot], taken: Iterable[Taken]) -> list[CostedUse]:
    """Return each use with its cost, in the order of days."""
    return [CostedUse(use, cost if known else None) for use, cost, known in _walk(lots, taken)]


def flow(lots: Iterable[Lot], taken: Iterable[Taken], first: date, last: date) -> StockFlow:
    """Return what came and went from `first` to `last`, both included. An unknown cost counts as 0."""
    bought = [(lot.day, lot.count, lot.price.minor if lot.price else 0) for lot in lots]
    went = [(use.day, use.why, use.count, cost.minor) for use, cost, _ in _walk(lots, taken)]
    before = _sum(row[1:] for row in bought if row[0] < first), _sum(row[2:] for row in went if row[0] < first)
    opening = before[0][0] - before[1][0], before[0][1] - before[1][1]
    now = _sum(row[1:] for row in bought if first <= row[0] <= last)
    gone = [row for row in went if first <= row[0] <= last]
    used, spoiled = (_sum(row[2:] for row in gone if (row[1] == SPOILED) is is_spoiled) for is_spoiled in (False, True))
    closing = tuple(opening[at] + now[at] - used[at] - spoiled[at] for at in (0, 1))
    return StockFlow(opening, now, used, spoiled, (closing[0], closing[1]))


def _sum(pairs: Iterable[Sequence[int]]) -> tuple[int, int]:
    counts = [(count, cost) for count, cost in pairs]
    return sum(count for count, _ in counts), sum(cost for _, cost in counts)


def by_currency(lots: Iterable[Lot], taken: Iterable[Taken]) -> list[tuple[list[Lot], list[Taken]]]:
    """Return the lots of each currency with what left of them, the first bought first.

    Lots without a price, and what never came, go with the first currency.
    """
    queue = sorted(lots, key=lambda lot: lot.day)
    first = next((lot.price.currency for lot in queue if lot.price), "")
    parts: dict[str, tuple[list[Lot], list[Taken]]] = {first: ([], [])}
    for lot in queue:
        parts.setdefault(lot.price.currency if lot.price else first, ([], []))[0].append(lot)
    for use, pieces, left in _from_lots(queue, taken):
        counts = Counter({first: left})
        for lot, begin, end in pieces:
            counts[lot.price.currency if lot.price else first] += end - begin
        for currency, count in counts.items():
            if count:
                parts[currency][1].append(replace(use, count=count))
    return list(parts.values())


def _walk(lots: Iterable[Lot], taken: Iterable[Taken]) -> Iterator[tuple[Taken, Money, bool]]:
    """Yield each use with the cost of its pieces that have one in the first lot's currency, and whether all have."""
    queue = sorted(lots, key=lambda lot: lot.day)
    currency = next((lot.price.currency for lot in queue if lot.price), "USD")
    for use, pieces, left in _from_lots(queue, taken):
        costs = [_part(lot, begin, end) if _is_in(lot, currency) else None for lot, begin, end in pieces]
        yield use, Money(sum(cost or 0 for cost in costs), currency), None not in costs and not left


def _is_in(lot: Lot, currency: str) -> bool:
    return lot.price is not None and lot.price.currency == currency


def _from_lots(queue: Sequence[Lot], taken: Iterable[Taken]) -> Iterator[tuple[Taken, list[tuple[Lot, int, int]], int]]:
    """Yield each use with the pieces of lots it took, from one to before another, and how many were not there."""
    place = gone = 0
    for use in sorted(taken, key=lambda one: one.day):
        left = use.count
        pieces: list[tuple[Lot, int, int]] = []
        while left and place < len(queue):
            lot = queue[place]
            some = min(left, lot.count - gone)
            pieces.append((lot, gone, gone + some))
            left, gone = left - some, gone + some
            if gone == lot.count:
                place, gone = place + 1, 0
        yield use, pieces, left


def _part(lot: Lot, first: int, last: int) -> int | None:
    """Return the cost in minor units of a lot's pieces from `first` to before `last`; None when it is unknown."""
    if lot.price is None:
        return None
    return lot.price.minor * last // lot.count - lot.price.minor * first // lot.count
