"""The pile on the bench: every piece judged, kept in step with what acts change.

Screens read it; acts never do. After a change only the pieces it names are read and judged again.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace

from desk.domain.changes import EVERYTHING, Changes
from desk.session.batch import Batch, batch_of
from desk.session.cases import StoredCase, read_stored, read_terms
from desk.session.judge import judge
from desk.session.posting_date import posting_day
from desk.session.sitting import Sitting
from desk.session.stamps_out import StampsOut
from desk.session.verdict import Terms, Verdict

MOST_ON_THE_BENCH = 4  # stamps on one piece where the shop has not said: a person has to lick them (common practice)


class Pile:
    """All verdicts by piece id, in the order the pieces were taken in."""

    def __init__(self, sitting: Sitting) -> None:
        self.sitting = sitting
        self.terms: Terms = self._read_terms()
        self._stored: dict[int, StoredCase] = {}
        self._bare: dict[int, Verdict] = {}
        self._verdicts: dict[int, Verdict] = {}
        self._out = StampsOut(self.terms, MOST_ON_THE_BENCH)
        self.read_all()

    @property
    def verdicts(self) -> Mapping[int, Verdict]:
        """The verdicts with their stamps, by piece id."""
        return self._verdicts

    def batch(self) -> Batch:
        """The whole as one batch, in the order of weighing: what papers and tables are made from."""
        return batch_of([self._verdicts[number] for number in self.in_turn()], self.terms, self._out)

    def find(self, number: str) -> int | None:
        """The piece of an order number, or of a reference such as `1066-2`; None when nobody knows it."""
        typed = number.strip()
        for piece_id, stored in self._stored.items():
            key = stored.case.key
            if typed == key.reference or (typed == key.order and key.piece == 1) or typed in stored.case.packed_with:
                return piece_id
        return None

    def turn_of(self, piece_id: int) -> int | None:
        """The place of its weighing among all weighings; None when it is not weighed. KeyError for no such piece."""
        return self._stored[piece_id].turn

    def in_turn(self) -> list[int]:
        """Piece ids: weighed ones in the order of weighing, then the others as taken in."""
        last = len(self._stored)
        place = {number: at for at, number in enumerate(self._stored)}

        def turn(number: int) -> tuple[bool, int]:
            weighed = self._stored[number].turn
            return (weighed is None, last + place[number] if weighed is None else weighed)

        return sorted(self._stored, key=turn)

    def read_all(self) -> None:
        """Read and judge everything again: the shop, the posting date or the orders are others now."""
        self.terms = self._read_terms()
        self._out = StampsOut(self.terms, MOST_ON_THE_BENCH)
        self._stored = {stored.id: stored for stored in read_stored(self.sitting)}
        self._bare = {number: judge(stored.case, self.terms) for number, stored in self._stored.items()}
        self._hand_out()

    def follow(self, changes: Changes) -> frozenset[int]:
        """Bring it up to date; the ids whose verdict is another one now."""
        before = self._verdicts
        if changes.orders or changes.settings or changes.pieces >= EVERYTHING:
            self.read_all()
        elif changes.shop:
            self._read_shop(changes.pieces)
        elif changes.pieces:
            self._read_some(changes.pieces)
        return frozenset(number for number in before.keys() | self._verdicts if self._is_another(number, before))

    def _read_terms(self) -> Terms:
        return read_terms(self.sitting, posting_day(self.sitting))

    def _is_another(self, number: int, before: Mapping[int, Verdict]) -> bool:
        was, now = before.get(number), self._verdicts.get(number)
        return was is not now and was != now

    def _read_shop(self, ids: frozenset[int]) -> None:
        """Stamps that come or go change nothing but the drawer; anything else of the shop changes every piece."""
        now, before = self._read_terms().shop, self.terms.shop
        if replace(now, stamps=()) != replace(before, stamps=()):
            self.read_all()
            return
        self.terms = replace(self.terms, shop=now)
        self._out.restock(now.stamps)
        self._read_some(ids)

    def _read_some(self, ids: frozenset[int]) -> None:
        fresh = {stored.id: stored for stored in read_stored(self.sitting, ids)}
        if beside := self._beside(ids, fresh):
            fresh |= {stored.id: stored for stored in read_stored(self.sitting, beside)}
        for number in ids - fresh.keys():
            self._stored.pop(number, None)
            self._bare.pop(number, None)
        came = bool(fresh.keys() - self._stored.keys())
        for number, stored in fresh.items():
            self._stored[number] = stored
            self._bare[number] = judge(stored.case, self.terms)
        if came:  # a piece more stands with its order, as it does when everything is read again
            ordered = sorted(self._stored.values(), key=lambda stored: (stored.order_id, stored.case.key.piece))
            self._stored = {stored.id: stored for stored in ordered}
        self._hand_out()

    def _beside(self, ids: frozenset[int], fresh: Mapping[int, StoredCase]) -> set[int]:
        """The other pieces of orders that have a piece more or less now: each counts the pieces of its order."""
        more = {fresh[number].order_id for number in fresh.keys() - self._stored.keys()}
        fewer = {self._stored[number].order_id for number in (ids - fresh.keys()) & self._stored.keys()}
        changed = more | fewer
        if not changed:
            return set()
        return {number for number, stored in self._stored.items() if stored.order_id in changed} - ids

    def _hand_out(self) -> None:
        turns = self.in_turn()
        served = dict(zip(turns, self._out.hand_out(self._bare[number] for number in turns), strict=True))
        self._verdicts = {number: served[number] for number in self._stored}
