"""Decide which piece a settled weight belongs to: follow it within an open piece, or weigh first and number later.

A recorded weight never moves to another piece; the same weight again without an empty pan asks.
"""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum

from desk.domain.weight import Shown
from desk.scales.pan import CaptureKind, Event, Pan, PanWasEmpty, SettledWeight, UnsettledOffer
from desk.scales.reading import Reading
from desk.scales.settling import Settling


class Say(StrEnum):
    """What the bench should do with a weight."""

    TAKE = "take"  # record it for the piece, which had none since it was opened
    REPLACE = "replace"  # record it for the piece instead of the previous one
    WAIT = "wait"  # no piece is open, so it waits for a number
    ASK = "ask"  # it is unclear whose weight it is, so a person decides


@dataclass(frozen=True, slots=True)
class ScaleOutcome:
    """A weight and its piece; `piece` is None when none is open."""

    say: Say
    settled: SettledWeight
    piece: int | None = None


class Following:
    """The second layer above a `Settling`. `waiting` is a weight without a piece, `asked` one a person must settle."""

    def __init__(self, settling: Settling) -> None:
        self.settling = settling
        self.piece: int | None = None
        self.waiting: SettledWeight | None = None
        self.asked: SettledWeight | None = None
        self._asks_same = False  # the same weight again may be the previous piece, put back
        self._owner: int | None = None  # whose weight is on the pan
        self._recorded: SettledWeight | None = None  # the weight of the open piece

    def feed(self, now: float, reading: Reading) -> tuple[ScaleOutcome, ...]:
        """Process a reading. Return what the bench should do."""
        events = self.settling.feed(now, reading)
        return tuple(outcome for event in events for outcome in self._event(event, now))

    def open(self, piece: int, *, in_list: bool = False, expects_same: bool = False) -> tuple[ScaleOutcome, ...]:
        """Open a piece: a waiting weight becomes its own, a weight that may belong to another piece asks.

        `in_list`: the program opened it, so the same weight again asks, because the previous piece may be back on the
        pan. With `expects_same` it does not ask, since the contents equal the previous piece's. A waiting weight
        already lifted asks too: it may not belong to this piece.
        """
        if piece == self.piece:
            return ()
        self.piece, self._recorded = piece, None
        self._asks_same = in_list and not expects_same
        if self.waiting:
            is_lifted = self.settling.taken is None
            return self._ask(self.waiting) if in_list and is_lifted else self._record(self.waiting)
        lying = self.asked or self.settling.taken
        if lying is None or (self._owner == piece and not self.asked):
            return ()
        return self._ask(lying)

    def close(self) -> None:
        """Close the piece, finished or left; its weight stays with it."""
        self.piece, self._recorded = None, None

    @property
    def owns_pan(self) -> bool:
        """Whether the item on the pan is the open piece's, with its weight recorded."""
        return self._recorded is not None and self._owner == self.piece

    def follow(self, stored: Shown | None) -> bool:
        """Follow the weight the open piece has in the store now; return True when that changes anything here.

        A weight that was undone is forgotten: an item still on the pan asks, one put on afterward is recorded. A weight
        that was redone belongs to the item on the pan again.
        """
        if self._recorded is not None and not _is_stored(self._recorded, stored):
            self._recorded = self._owner = None
            self.asked = self.settling.asked or self.settling.taken
            return True
        if self._recorded is None and self.asked is not None and _is_stored(self.asked, stored):
            self._record(self.asked)
            return True
        return False

    def take(self, now: float) -> tuple[ScaleOutcome, ...]:
        """Confirm the weight for the open piece, or to wait for a number."""
        asked, self.asked = self.asked, None
        left_unseen = (self.settling.asked or self.settling.taken) is None and asked is not self.waiting
        if asked is None or left_unseen:
            return ()
        self.settling.accept(now)
        return self._record(asked) if self.piece is not None else self._wait(asked)

    def _event(self, event: Event, now: float) -> tuple[ScaleOutcome, ...]:
        if isinstance(event, SettledWeight):
            return self._settled(event, now)
        if isinstance(event, UnsettledOffer):
            return () if self._recorded else self._ask(event.settled)
        self.asked = None
        if isinstance(event, PanWasEmpty):
            self._owner = None
        else:
            self.waiting = self._owner = None  # a unit key does not change earlier weights
        return ()

    def _settled(self, settled: SettledWeight, now: float) -> tuple[ScaleOutcome, ...]:
        if settled.how is CaptureKind.FIRST:
            return self._first(settled)
        if settled.how is CaptureKind.CORRECTED and self.waiting:
            return self._wait(settled)
        mine = self.piece is not None and self._owner == self.piece
        if mine and settled.how is CaptureKind.AGAIN:
            return ()
        if mine and not settled.asks:
            self.settling.accept(now)
            return self._record(settled)
        if self.waiting and settled.how is CaptureKind.AGAIN:
            return ()
        self.waiting = None
        return self._ask(settled)

    def _first(self, settled: SettledWeight) -> tuple[ScaleOutcome, ...]:
        if settled.asks:
            return self._ask(settled)
        if self.piece is None:
            return self._wait(settled)
        if settled.same and self._recorded is not None and self._recorded.value == settled.value:
            self._owner = self.piece  # lifted and put back
            return ()
        if settled.same and self._asks_same and self._recorded is None:
            return self._ask(settled)
        return self._record(settled)

    def _record(self, settled: SettledWeight) -> tuple[ScaleOutcome, ...]:
        say = Say.REPLACE if self._recorded else Say.TAKE
        self.waiting = self.asked = None
        self._recorded = settled
        on_pan = self.settling.taken is not None or self.settling.pan is Pan.CAPTURED
        self._owner = self.piece if on_pan else None
        return (ScaleOutcome(say, settled, self.piece),)

    def _wait(self, settled: SettledWeight) -> tuple[ScaleOutcome, ...]:
        self.waiting, self.asked, self._owner = settled, None, None
        return (ScaleOutcome(Say.WAIT, settled),)

    def _ask(self, settled: SettledWeight) -> tuple[ScaleOutcome, ...]:
        self.asked = settled
        return (ScaleOutcome(Say.ASK, settled, self.piece),)


def _is_stored(settled: SettledWeight, stored: Shown | None) -> bool:
    """Return whether the stored weight is this one; how it flickered is not always stored."""
    return stored is not None and (settled.value, settled.unit) == (stored.value, str(stored.unit))
