"""Read and judge a whole pile again in short parts, so that a window takes keys and readings meanwhile.

At 10,000 pieces it takes seconds in all and 15 to 40 ms a part.
"""

from __future__ import annotations

from collections.abc import Collection, Iterator, Mapping, Sequence
from itertools import chain, islice
from typing import TypeVar

from desk.session.learned.memory import Memory
from desk.session.pile.addressees import SameDay
from desk.session.pile.batch import Counts
from desk.session.pile.stamps_out import StampsOut, Turn
from desk.session.pile.stored_cases import StoredCase, read_stored, remembered
from desk.session.sitting import Sitting
from desk.session.verdict.judge import judge
from desk.session.verdict.verdict import Terms, Verdict

PART = 100  # pieces read or judged in one part
T = TypeVar("T")


class FullReading:
    """One reading of the pieces with these ids. Its results count once `go_on` returns False.

    `changed` are the pieces whose verdict is not the one in `before`. `again` are pieces to read once more at the end,
    since they changed meanwhile.
    """

    def __init__(self, sitting: Sitting, terms: Terms, ids: Collection[int], before: Mapping[int, Verdict]) -> None:
        self.stored: dict[int, StoredCase] = {}
        self.bare: dict[int, Verdict] = {}
        self.verdicts: dict[int, Verdict] = {}
        self.weighed: list[Turn] = []
        self.out = StampsOut(terms)
        self.counts = Counts(terms.on)
        self.changed: set[int] = set()
        self.again: set[int] = set()
        self.done, self.of = 0, 3 * len(ids)
        self.ids = ids
        self.terms = terms
        self._sitting, self._before = sitting, before
        self._parts: Iterator[None] = iter(())

    def begin(self, memory: Memory, same_day: SameDay, countries: Collection[str] = ()) -> None:
        """Get ready to read, with what past weighings taught and the orders to one addressee.

        Orders to `countries` are read first, each in a part, since they would make the first part long.
        """
        self._parts = chain(self._first(same_day, countries), self._work(memory, same_day))

    def go_on(self) -> bool:
        """Do the next part; return False when everything is done."""
        return next(self._parts, self) is not self

    def _first(self, same_day: SameDay, countries: Collection[str]) -> Iterator[None]:
        for country in sorted(countries):
            with self._sitting.store.reading() as conn:
                same_day.read(conn, [country], self._sitting.on)
            yield

    def _work(self, memory: Memory, same_day: SameDay) -> Iterator[None]:
        read: list[StoredCase] = []
        for ids in _parts(sorted(self.ids)):
            read += read_stored(self._sitting, ids, same_day)
            self.done += len(ids)
            yield
        for some in _parts(sorted(read, key=lambda one: (one.turn is None, one.turn or 0))):
            current = [one for one in some if one.id not in self.again]  # memory knows a newer weight of the others
            for one in remembered(current, memory, self.terms.shop):  # learned from in the order weighed
                self._judge(one)
            self.done += len(some)
            yield
        self.out.reassign()
        yield
        for some in _parts(sorted(self.stored.values(), key=lambda one: (one.order_id, one.case.key.piece))):
            for one in some:
                self._place(one)
            self.done += len(some)
            yield

    def _judge(self, one: StoredCase) -> None:
        self.stored[one.id], self.bare[one.id] = one, judge(one.case, self.terms)
        if one.turn is not None:
            self.weighed.append((one.turn, one.id))
            self.out.put((one.turn, one.id), self.bare[one.id])

    def _place(self, one: StoredCase) -> None:
        """Put a piece at its place in the order of import, with its stamps."""
        self.stored[one.id] = self.stored.pop(one.id)
        verdict = self.bare[one.id] if one.turn is None else self.out.given(one.id)
        self.verdicts[one.id] = verdict
        self.counts.add(verdict)
        was = self._before.get(one.id)
        if was is not verdict and was != verdict:
            self.changed.add(one.id)


def _parts(all_of_them: Sequence[T]) -> Iterator[list[T]]:
    left = iter(all_of_them)
    while part := list(islice(left, PART)):
        yield part
