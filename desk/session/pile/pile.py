"""The pile on the bench: every piece here judged, found by number, and in the order weighed.

Screens read it; acts never do.
"""

from __future__ import annotations

from bisect import bisect_left
from collections.abc import Callable, Iterator, Sequence
from dataclasses import replace
from itertools import chain

from desk.domain.shop.stamp import StampStock
from desk.learning.parcel import Expected
from desk.session.learned.memory import expected_reading
from desk.session.pile.batch import Batch, batch_of
from desk.session.pile.by_number import in_progress_ending, named, named_ending
from desk.session.pile.earlier import ids_ending, ids_of_numbers, left_last
from desk.session.pile.following.judged_pieces import JudgedPieces
from desk.session.pile.stamps_out import Turn
from desk.session.pile.stored_cases import StoredCase
from desk.session.verdict.case import Case
from desk.session.verdict.verdict import Verdict


class Pile(JudgedPieces):
    """The pile of one sitting, with what screens ask of it."""

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

    def know(self, latest: Sequence[StoredCase]) -> None:
        """Take note of what was weighed before."""
        self.latest = latest
        self._tell(None)

    def find(self, number: str) -> int | None:
        """Return the piece id of an order number, or of a reference such as `1066-2`; None when there is none.

        A piece that left on an earlier day is added to the pile.
        """
        typed = number.strip()
        matches = named(self._stored, typed)
        if matches is None and self.unread and self.bring(ids_of_numbers(self.sitting, [typed])):
            matches = named(self._stored, typed)
        return matches

    def find_by_digits(self, digits: str) -> list[int]:
        """Return the ids of pieces whose number is these digits after a prefix: `3009` for `TK-3009`.

        `3012-2` is the second package of `TK-3012`. More than one id: orders of several shops share the digits.
        """
        typed = digits.strip()
        if not typed[:1].isdigit():
            return []
        matches = named_ending(self._stored, typed)
        if not matches and self.unread and self.bring(ids_ending(self.sitting, typed)):
            matches = named_ending(self._stored, typed)
        return matches

    def find_by_ending(self, digits: str) -> list[int]:
        """Return the ids of first packages in progress whose order number ends with these digits: `43` for `1043`."""
        return in_progress_ending(self._verdicts, digits)

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
