"""The pieces here, each judged, and updated as acts change things.

After a change only the pieces it names are read and judged again. Pieces that left on an earlier day are not here until
they are asked for.
"""

from __future__ import annotations

from bisect import bisect_left, insort
from collections.abc import Collection, Iterable, Mapping, Sequence
from dataclasses import replace
from typing import Protocol
from weakref import WeakSet

from desk.domain.changes import EVERYTHING, Changes
from desk.intake.orders.uncollected import uncollected
from desk.session.learned.memory import Memory
from desk.session.learned.parcels import typed_weights
from desk.session.pile.addressees import SameDay
from desk.session.pile.batch import Counts
from desk.session.pile.earlier import ids_here, pieces_in_all
from desk.session.pile.mailing_date import posting_day
from desk.session.pile.stamps_out import StampsOut, Turn
from desk.session.pile.stored_cases import StoredCase, read_stored, read_terms, remembered
from desk.session.sitting import Sitting
from desk.session.verdict.judge import judge
from desk.session.verdict.verdict import Terms, Verdict


class PileFollower(Protocol):
    """What is kept up to date with a pile."""

    def follow(self, piece_id: int | None) -> None:
        """Follow a piece whose verdict changed; None: everything was read again."""


class JudgedPieces:
    """The verdicts of all pieces here by piece id, in the order the pieces were imported.

    `unread` is how many others there are, which left on an earlier day; `bring` adds some of them. `latest` are cases
    weighed before, oldest first, to see what is usual; empty until they were read in the background.
    """

    def __init__(self, sitting: Sitting, memory: Memory | None = None) -> None:
        self.sitting = sitting
        self.terms: Terms = self._read_terms()
        self._stored: dict[int, StoredCase] = {}
        self._bare: dict[int, Verdict] = {}
        self._verdicts: dict[int, Verdict] = {}
        self._out = StampsOut(self.terms)
        self._weighed: list[Turn] = []  # in the order of weighing
        self._before: dict[int, Verdict | None] = {}  # the verdicts before the change being followed
        self._same_day = SameDay()
        self.counts = Counts(self.terms.on)
        self.memory = memory or Memory.unread(sitting, self.terms.shop)
        self._typed = typed_weights(self.terms.shop)
        self.followers: WeakSet[PileFollower] = WeakSet()
        self.latest: Sequence[StoredCase] = ()
        self.unread = 0
        self._asked: set[int] = set()  # pieces that left, and were asked for
        self.read_all()

    @property
    def verdicts(self) -> Mapping[int, Verdict]:
        """The verdicts, with stamps assigned, by piece id."""
        return self._verdicts

    def bring(self, ids: Iterable[int]) -> frozenset[int]:
        """Add pieces that left on an earlier day; return the ids of those added."""
        wanted = frozenset(ids) - self._stored.keys()
        self._asked |= wanted
        self._read_some(wanted)
        return wanted & self._stored.keys()

    def turn_of(self, piece_id: int) -> int | None:
        """Return its position in the order of weighing; None when not weighed. KeyError for no such piece."""
        return self._stored[piece_id].turn

    def read_all(self) -> None:
        """Read and judge everything again, after the shop, the mailing date or all orders changed."""
        with uncollected():
            self._read_all()

    def _read_all(self) -> None:
        before = self._verdicts
        self.terms = self._read_terms()
        self._out = StampsOut(self.terms)
        self._same_day.forget()
        stored = read_stored(self.sitting, self._asked.union(ids_here(self.sitting)), self._same_day)
        if (typed := typed_weights(self.terms.shop)) != self._typed:
            self._typed, self.memory.stale = typed, True
        self._stored = {one.id: one for one in remembered(stored, self.memory, self.terms.shop)}
        self._bare = {number: judge(one.case, self.terms) for number, one in self._stored.items()}
        self._weighed = sorted(_turn(one) for one in self._stored.values() if one.turn is not None)
        for turn in self._weighed:
            self._out.put(turn, self._bare[turn[1]])
        self._out.reassign()
        self._verdicts = {number: self._with_stamps(number) for number in self._bare}
        self.counts = Counts(self.terms.on, self._verdicts.values())
        self._count_unread()
        self._before = {number: before.get(number) for number in before.keys() | self._verdicts}
        self._tell(None)

    def follow(self, changes: Changes) -> frozenset[int]:
        """Update the pile after changes; return the ids whose verdict changed."""
        self._before = {}
        if any(number not in self._stored or self._stored[number].case.handed_over for number in changes.pieces):
            self._same_day.forget()  # undo may return an order that had left
        if changes.orders or changes.settings or changes.pieces >= EVERYTHING:
            self.read_all()
        elif changes.shop:
            self._read_shop(changes.pieces)
        elif changes.pieces:
            self._read_some(changes.pieces)
            self._hand_out()
        return frozenset(number for number in self._before if self._is_another(number))

    def _read(self, ids: Collection[int]) -> list[StoredCase]:
        return remembered(read_stored(self.sitting, ids, self._same_day), self.memory, self.terms.shop)

    def _read_terms(self) -> Terms:
        return read_terms(self.sitting, posting_day(self.sitting))

    def _is_another(self, number: int) -> bool:
        was, now = self._before[number], self._verdicts.get(number)
        return was is not now and was != now

    def _read_shop(self, ids: frozenset[int]) -> None:
        """Read the shop again; a change of stamps only affects the drawer, any other change every piece."""
        now, before = self._read_terms().shop, self.terms.shop
        if replace(now, stamps=()) != replace(before, stamps=()):
            self.read_all()
            return
        self.terms = replace(self.terms, shop=now)
        self._out.restock(now.stamps)
        self._read_some(ids)
        self._hand_out()

    def _read_some(self, ids: frozenset[int]) -> None:
        """Read and judge these again."""
        fresh = {stored.id: stored for stored in self._read(ids)}
        if beside := _beside(ids, fresh, self._stored):
            fresh |= {stored.id: stored for stored in self._read(beside)}
        gone = (ids - fresh.keys()) & self._stored.keys()
        for number in gone:
            self._drop(number)
        came = fresh.keys() - self._stored.keys()
        for number, stored in fresh.items():
            self._keep(number, stored)
        if came:  # a new piece is placed with its order, as in a full read
            self._stored = dict(sorted(self._stored.items(), key=lambda one: (one[1].order_id, one[1].case.key.piece)))
            self._verdicts = {number: self._verdicts[number] for number in self._stored}
        if came or gone:
            self._count_unread()

    def _count_unread(self) -> None:
        self.unread = pieces_in_all(self.sitting) - len(self._stored)

    def _drop(self, number: int) -> None:
        self._unseat(self._stored.pop(number))
        del self._bare[number]
        self._show(number, None)

    def _keep(self, number: int, stored: StoredCase) -> None:
        if number in self._stored:
            self._unseat(self._stored[number])
        if stored.turn is not None:
            insort(self._weighed, _turn(stored))
        self._stored[number] = stored
        self._bare[number] = judge(stored.case, self.terms)
        if stored.turn is not None:
            self._out.put(_turn(stored), self._bare[number])
        self._show(number, self._with_stamps(number))

    def _unseat(self, stored: StoredCase) -> None:
        if stored.turn is not None:
            del self._weighed[bisect_left(self._weighed, _turn(stored))]
            self._out.remove(stored.id)

    def _with_stamps(self, number: int) -> Verdict:
        """Return the verdict with the stamps given so far; as judged for a piece that is not weighed."""
        return self._bare[number] if self._stored[number].turn is None else self._out.given(number)

    def _show(self, number: int, verdict: Verdict | None) -> None:
        """Set the verdict on a piece; None: the piece is gone."""
        was = self._verdicts.get(number)
        if was is verdict:
            return
        self._before.setdefault(number, was)
        if was is not None:
            self.counts.take_away(was)
        if verdict is None:
            del self._verdicts[number]
        else:
            self.counts.add(verdict)
            self._verdicts[number] = verdict
        self._tell(number)

    def _tell(self, number: int | None) -> None:
        for follower in self.followers:
            follower.follow(number)

    def _hand_out(self) -> None:
        """Assign the stamps again: the best for the whole batch may change any weighed piece."""
        for number, served in self._out.reassign().items():
            self._show(number, served)


def _beside(ids: frozenset[int], fresh: Mapping[int, StoredCase], before: Mapping[int, StoredCase]) -> set[int]:
    """Return the other pieces of orders that gained or lost a piece, since each counts its order's pieces."""
    more = {fresh[number].order_id for number in fresh.keys() - before.keys()}
    fewer = {before[number].order_id for number in (ids - fresh.keys()) & before.keys()}
    changed = more | fewer
    return {number for number, stored in before.items() if stored.order_id in changed} - ids if changed else set()


def _turn(stored: StoredCase) -> Turn:
    assert stored.turn is not None
    return stored.turn, stored.id
