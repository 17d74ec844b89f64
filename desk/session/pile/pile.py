"""The pile on the bench: every piece here judged, and updated as acts change things.

Screens read it; acts never do. After a change only the pieces it names are read and judged again. Pieces that left on
an earlier day are not in it until they are asked for.
"""

from __future__ import annotations

from bisect import bisect_left, insort
from collections.abc import Callable, Collection, Iterable, Iterator, Mapping, Sequence
from dataclasses import replace
from itertools import chain
from typing import Protocol
from weakref import WeakSet

from desk.domain.changes import EVERYTHING, Changes
from desk.domain.shop.stamp import StampStock
from desk.intake.orders.uncollected import uncollected
from desk.learning.parcel import Expected
from desk.session.learned.memory import Memory, expected_reading
from desk.session.learned.parcels import typed_weights
from desk.session.pile.addressees import SameDay
from desk.session.pile.batch import Batch, Counts, batch_of
from desk.session.pile.by_number import in_progress_ending, named, named_ending
from desk.session.pile.earlier import ids_ending, ids_here, ids_of_numbers, left_last, pieces_in_all
from desk.session.pile.mailing_date import posting_day
from desk.session.pile.stamps_out import StampsOut, Turn
from desk.session.pile.stored_cases import StoredCase, read_stored, read_terms, remembered
from desk.session.sitting import Sitting
from desk.session.verdict.case import Case
from desk.session.verdict.judge import judge
from desk.session.verdict.verdict import Terms, Verdict


class PileFollower(Protocol):
    """What is kept up to date with a pile."""

    def follow(self, piece_id: int | None) -> None:
        """Follow a piece whose verdict changed; None: everything was read again."""


class Pile:
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

    def batch(self) -> Batch:
        """Return everything as one batch, in the order of weighing, for papers and tables."""
        served = batch_of([self._verdicts[number] for number in self.in_turn()], self.terms, self._out)
        return replace(served, left_last=left_last(self.sitting, self.terms.on))

    def numbers(self) -> dict[str, str]:
        """Return the numbers people know the pieces by, each under its reference."""
        cases = [stored.case for stored in self._stored.values()]
        return {case.key.reference: case.number for case in cases}

    def number_of(self, reference: str) -> str:
        """Return the number people know the piece of a reference by; the reference itself when it isn't here."""
        piece_id = self.find(reference)
        return reference if piece_id is None else self._stored[piece_id].case.number

    @property
    def is_empty(self) -> bool:
        """True before anything was imported."""
        return not self._stored and not self.unread

    def bring(self, ids: Iterable[int]) -> frozenset[int]:
        """Add pieces that left on an earlier day; return the ids of those added."""
        wanted = frozenset(ids) - self._stored.keys()
        self._asked |= wanted
        self._read_some(wanted)
        return wanted & self._stored.keys()

    def know(self, latest: Sequence[StoredCase]) -> None:
        """Take note of what was weighed before."""
        self.latest = latest
        self._tell(None)

    def find(self, number: str) -> int | None:
        """Return the piece id of an order number, or of a reference such as `1066-2`; None when there is none.

        A piece that left on an earlier day is added to the pile.
        """
        typed = number.strip()
        found = named(self._stored, typed)
        if found is None and self.unread and self.bring(ids_of_numbers(self.sitting, [typed])):
            found = named(self._stored, typed)
        return found

    def find_by_digits(self, digits: str) -> list[int]:
        """Return the ids of pieces whose number is these digits after a prefix: `3009` for `TK-3009`.

        `3012-2` is the second package of `TK-3012`. More than one id: orders of several shops share the digits.
        """
        typed = digits.strip()
        if not typed[:1].isdigit():
            return []
        found = named_ending(self._stored, typed)
        if not found and self.unread and self.bring(ids_ending(self.sitting, typed)):
            found = named_ending(self._stored, typed)
        return found

    def find_by_ending(self, digits: str) -> list[int]:
        """Return the ids of first packages in progress whose order number ends with these digits: `43` for `1043`."""
        return in_progress_ending(self._verdicts, digits)

    def turn_of(self, piece_id: int) -> int | None:
        """Return its position in the order of weighing; None when not weighed. KeyError for no such piece."""
        return self._stored[piece_id].turn

    def in_turn(self) -> list[int]:
        """Piece ids: weighed ones in the order of weighing, then the others in import order."""
        return [*(number for _, number in self._weighed), *(n for n, one in self._stored.items() if one.turn is None)]

    def cases(self) -> list[Case]:
        """Return the cases in the order of `in_turn`."""
        return [self._stored[number].case for number in self.in_turn()]

    def last_weighed(self, count: int) -> list[int]:
        """Return the ids of the pieces weighed last, newest first."""
        return [number for _, number in reversed(self._weighed[-count:])]

    @property
    def drawer_left(self) -> tuple[StampStock, ...]:
        """The stamps left when every piece has its own."""
        return self._out.left

    def read_all(self) -> None:
        """Read and judge everything again, after the shop, the mailing date or all orders changed."""
        with uncollected():
            self._read_all()

    def _read_all(self) -> None:
        before, terms = self._verdicts, self._read_terms()
        self._same_day.forget()
        stored = read_stored(self.sitting, self._asked.union(ids_here(self.sitting)), self._same_day)
        self.terms, self._out = terms, StampsOut(terms)
        if (typed := typed_weights(self.terms.shop)) != self._typed:
            self._typed, self.memory.stale = typed, True
        self._stored = {one.id: one for one in remembered(stored, self.memory, self.terms.shop)}
        self._bare = {number: judge(stored.case, self.terms) for number, stored in self._stored.items()}
        self._weighed = sorted(_turn(stored) for stored in self._stored.values() if stored.turn is not None)
        for turn in self._weighed:
            self._out.put(turn, self._bare[turn[1]])
        self._out.reassign()
        self._verdicts = {number: self._with_stamps(number) for number in self._bare}
        self.counts = Counts(self.terms.on, self._verdicts.values())
        self._count_unread()
        self._before = {number: before.get(number) for number in before.keys() | self._verdicts}
        self._tell(None)

    def expected(self, piece_id: int) -> Expected | None:
        """Return the expected reading in a piece's mailer, or the one guessed; None when too little is known."""
        return expected_reading(self._stored[piece_id].case, self.terms.shop, self.expecting)

    def expecting(self, case: Case, mailer: str) -> Expected | None:
        """Return the expected reading of a case in a mailer; None where nothing is learned."""
        shop = self.terms.shop
        return self.memory.expect(case, shop, mailer) if shop.policy.learn_weights else None

    def shared_variance(self, parts: Sequence[tuple[Case, str, float]]) -> float:
        """Return what uncertain weights that cases in mailers share add to the variance of a weighted sum."""
        return self.memory.shared_variance(parts, self.terms.shop)

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


class PiecesWhere:
    """The pieces of a pile whose verdict passes a test, in import order. It follows the pile."""

    def __init__(self, pile: Pile, test: Callable[[Verdict], bool]) -> None:
        self._pile, self._test = pile, test
        self._places: dict[int, int] = {}
        self._passed: list[Turn] = []  # place and piece id
        self._is_stale = True
        pile.followers.add(self)

    def __len__(self) -> int:
        self._refresh()
        return len(self._passed)

    def after(self, piece_id: int | None) -> Iterator[int]:
        """Yield the pieces from this one on, then those before it; all in order for None or a piece not in the pile."""
        self._refresh()
        index = bisect_left(self._passed, (self._places.get(piece_id or 0, -1), piece_id or 0))
        for _, number in chain(self._passed[index:], self._passed[:index]):
            yield number

    def follow(self, piece_id: int | None) -> None:
        """Follow a piece whose verdict changed; None: everything was read again."""
        verdict = None if piece_id is None else self._pile.verdicts.get(piece_id)
        if piece_id is None or verdict is None or piece_id not in self._places:
            self._is_stale = True
        elif not self._is_stale:
            entry = self._places[piece_id], piece_id
            index = bisect_left(self._passed, entry)
            is_in, passes = self._passed[index : index + 1] == [entry], self._test(verdict)
            if passes and not is_in:
                self._passed.insert(index, entry)
            elif is_in and not passes:
                del self._passed[index]

    def _refresh(self) -> None:
        if self._is_stale:
            self._is_stale = False
            self._places = {number: place for place, number in enumerate(self._pile.verdicts)}
            verdicts = self._pile.verdicts.items()
            self._passed = [(self._places[number], number) for number, one in verdicts if self._test(one)]
