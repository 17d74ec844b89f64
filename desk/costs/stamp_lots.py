"""Stamps at cost: bought in lots, used first in, first out, so that the oldest price is used first.

Exactly, on any day: opening + bought - used - spoiled = closing, in pieces and in money.
"""

from __future__ import annotations

from collections import defaultdict, deque
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
from datetime import date
from enum import StrEnum

from desk.domain.money import Money, zero


class StampEvent(StrEnum):
    """What happened to stamps."""

    BOUGHT = "bought"
    USED = "used"
    SPOILED = "spoiled"


@dataclass(frozen=True, slots=True)
class StampMove:
    """Stamps of one kind bought, used or spoiled on a day. `paid` is the price of the whole lot, for stamps bought."""

    on: date
    kind: str
    event: StampEvent
    count: int
    paid: Money | None = None
    reference: str = ""


@dataclass(frozen=True, slots=True)
class StampAmount:
    """A number of stamps and what they cost."""

    count: int
    cost: Money

    def __add__(self, other: StampAmount) -> StampAmount:
        return StampAmount(self.count + other.count, self.cost + other.cost)

    def __sub__(self, other: StampAmount) -> StampAmount:
        return StampAmount(self.count - other.count, self.cost - other.cost)


@dataclass(slots=True)
class _Lot:
    """The rest of one purchase. Cents that do not divide evenly go to the stamps used last."""

    count: int
    paid: int  # minor units

    def take(self, count: int) -> int:
        """Remove stamps from the lot. Return their cost in minor units."""
        cost = self.paid * count // self.count
        self.count, self.paid = self.count - count, self.paid - cost
        return cost


@dataclass(slots=True)
class StampLedger:
    """A shop's stamps over time. Stamps without a recorded purchase cost their face value, and are counted."""

    currency: str = "USD"
    lots: dict[str, deque[_Lot]] = field(default_factory=lambda: defaultdict(deque))
    unpriced: dict[str, int] = field(default_factory=lambda: defaultdict(int))  # used without a recorded purchase

    def apply(self, move: StampMove, face: Money | None = None) -> StampAmount:
        """Apply a move and return its cost; `face` is a stamp's value if its purchase is unknown.

        Raises:
            ValueError: a count below one, or a purchase without a price.
        """
        if move.count < 1:
            raise ValueError(f"a count of stamps is at least 1: {move.count}")
        if move.event is StampEvent.BOUGHT:
            if move.paid is None or move.paid < zero(self.currency):
                raise ValueError("a purchase has a price of 0 or more")
            self.lots[move.kind].append(_Lot(move.count, move.paid.minor))
            return StampAmount(move.count, move.paid)
        return StampAmount(move.count, Money(self._take(move.kind, move.count, face), self.currency))

    def on_hand(self, kind: str) -> StampAmount:
        """Return how many stamps of a kind are left, and their cost."""
        lots = self.lots.get(kind, ())
        return StampAmount(sum(lot.count for lot in lots), Money(sum(lot.paid for lot in lots), self.currency))

    def _take(self, kind: str, count: int, face: Money | None) -> int:
        lots, cost = self.lots[kind], 0
        while count and lots:
            some = min(count, lots[0].count)
            cost, count = cost + lots[0].take(some), count - some
            if not lots[0].count:
                lots.popleft()
        if count:
            self.unpriced[kind] += count
            cost += count * (face.minor if face else 0)
        return cost


@dataclass(frozen=True, slots=True)
class StampStatement:
    """One kind of stamp over a period.

    `unpriced` stamps were used or spoiled without a recorded purchase: for these, opening + bought - used - spoiled
    differs from closing by their number and face value.
    """

    kind: str
    opening: StampAmount
    bought: StampAmount
    used: StampAmount
    spoiled: StampAmount
    closing: StampAmount
    unpriced: int = 0


def statement(
    moves: Iterable[StampMove], first: date, last: date, currency: str = "USD", faces: Mapping[str, Money] | None = None
) -> list[StampStatement]:
    """Return a statement for each kind from `first` to `last`, both inclusive. `moves` may be in any order."""
    ledger, known = StampLedger(currency), faces or {}
    ranked = sorted(moves, key=lambda move: (move.on, move.event is not StampEvent.BOUGHT))
    kinds = sorted({move.kind for move in ranked if move.on <= last})
    for move in ranked:
        if move.on < first:
            ledger.apply(move, known.get(move.kind))
    opening = {kind: ledger.on_hand(kind) for kind in kinds}
    before = dict(ledger.unpriced)
    nothing = StampAmount(0, zero(currency))
    sums = {(kind, event): nothing for kind in kinds for event in StampEvent}
    for move in ranked:
        if first <= move.on <= last:
            sums[move.kind, move.event] += ledger.apply(move, known.get(move.kind))
    return [
        StampStatement(
            kind=kind,
            opening=opening[kind],
            bought=sums[kind, StampEvent.BOUGHT],
            used=sums[kind, StampEvent.USED],
            spoiled=sums[kind, StampEvent.SPOILED],
            closing=ledger.on_hand(kind),
            unpriced=ledger.unpriced[kind] - before.get(kind, 0),
        )
        for kind in kinds
    ]
