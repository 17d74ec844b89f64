"""The mailer usually used for the same contents, learned from past weighings, and how often it was right."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from desk.domain.orders.order import OrderLine
from desk.domain.shop.product import Product
from desk.session.pile.pile import Pile
from desk.session.verdict.case import Case

FEWEST = 3  # pieces before a mailer is called usual


@dataclass(frozen=True, slots=True)
class UsualMailer:
    """A mailer by name; for `right` of the `times` pieces after the first, it would have been the right one."""

    name: str
    right: int
    times: int

    @property
    def words(self) -> str:
        """Return `usual, right 5 of 6 times`."""
        return f"usual, right {self.right} of {self.times} times"


class UsualSoFar:
    """Counts mailers as they are used, oldest first, and how often those before named the next one."""

    def __init__(self, mailers: Iterable[str] = ()) -> None:
        self._counted: Counter[str] = Counter()
        self._best, self._right = "", 0
        for used in mailers:
            self.add(used)

    def add(self, used: str) -> None:
        """Count the mailer used next."""
        self._right += used == self._best
        self._counted[used] += 1
        self._best = used if self._counted[used] >= self._counted[self._best] else self._best

    def usual(self) -> UsualMailer | None:
        """Return the most frequent mailer, among equals the latest; None after fewer than three."""
        times = self._counted.total()
        return UsualMailer(self._best, self._right, times - 1) if times >= FEWEST else None


def usual_of(mailers: Iterable[str]) -> UsualMailer | None:
    """Return the usual one of the mailers used, oldest first; None when there are fewer than three."""
    return UsualSoFar(mailers).usual()


def usual_for_product(pile: Pile, product: Product) -> UsualMailer | None:
    """Return the usual mailer for one of a product alone; None when too few were weighed."""
    shop = pile.terms.shop

    def is_it(lines: Sequence[OrderLine]) -> bool:
        return len(lines) == 1 and lines[0].quantity == 1 and shop.product_for(lines[0]) == product

    before = [one.case for one in pile.latest if one.id not in pile.verdicts]
    return usual_of(chosen_mailers(case for case in [*before, *pile.cases()] if is_it(case.order.lines)))


def chosen_mailers(cases: Iterable[Case]) -> list[str]:
    """Return the mailers of weighed pieces, without those that were only guessed."""
    return [
        case.mailer_name
        for case in cases
        if case.weighing is not None and case.mailer_name and (case.mailer or not case.weighing.mailer_guessed)
    ]
