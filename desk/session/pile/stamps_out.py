"""Stamps handed out of one drawer to many pieces, in the order of weighing.

What was handed out before is kept: when one more piece is weighed, only that one is worked out anew. A piece that
carries its stamps already asks for none: it shows those that were put on it.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace

from desk.domain.finding import Code, finding
from desk.domain.money import Money, zero
from desk.domain.stamp import StampKind, StampStock
from desk.rates.stamps import StampCount, StampSet, choose_stamps, stamp_values, stamps_to_buy, worth_of
from desk.session.verdict.judge import settle
from desk.session.verdict.payment import Payment
from desk.session.verdict.verdict import Terms, Verdict

Drawer = tuple[StampStock, ...]


@dataclass(frozen=True, slots=True)
class _Need:
    """What one piece asks of the drawer. A stopped piece is shown its stamps and takes none: it goes nowhere yet."""

    postage: Money
    abroad: bool
    takes: bool


@dataclass(frozen=True, slots=True)
class _Given:
    need: _Need
    chosen: StampSet | None
    left: Drawer


class StampsOut:
    """The drawer of a batch, and what each piece of it got. The shop's rules say how many stamps go on one piece."""

    def __init__(self, terms: Terms) -> None:
        self._drawer: Drawer = terms.shop.stamps
        self._values: Mapping[StampKind, Money] = stamp_values(terms.rulebook.charts, terms.on)
        self._most = terms.shop.policy.max_stamps
        self._given: list[_Given] = []
        self._chosen: dict[tuple[_Need, tuple[int, ...]], StampSet | None] = {}
        self._shown: dict[int, tuple[Verdict, StampSet, Verdict]] = {}  # by identity: without stamps, stamps, with them

    def restock(self, drawer: Drawer) -> None:
        """Start from another drawer."""
        if [(one.kind, one.value) for one in drawer] != [(one.kind, one.value) for one in self._drawer]:
            self._chosen.clear()
        self._drawer = drawer
        self._given.clear()

    @property
    def left(self) -> Drawer:
        """What is left in the drawer."""
        return self._given[-1].left if self._given else self._drawer

    def hand_out(self, verdicts: Iterable[Verdict], after: int = 0) -> list[Verdict]:
        """The verdicts with their stamps, in the order given; `not-enough-stamps` where the drawer cannot make it.

        They are all that come after the first `after` pieces that asked for stamps, which keep what they got.
        """
        served, place = [], after
        shown = self._shown
        if not after:
            self._shown = {}
        for verdict in verdicts:
            need = _need(verdict)
            if need is None:
                served.append(self._with_those_on_it(verdict))
                continue
            served.append(self._served(verdict, self._at(place, need), shown))
            place += 1
        del self._given[place:]
        return served

    @staticmethod
    def asks(verdict: Verdict) -> bool:
        """True when a piece asks the drawer for stamps."""
        return _need(verdict) is not None

    def forget(self, verdict: Verdict) -> None:
        """A verdict that is in force no more."""
        self._shown.pop(id(verdict), None)

    def _at(self, place: int, need: _Need) -> _Given:
        if place < len(self._given) and self._given[place].need == need:
            return self._given[place]
        del self._given[place:]
        chosen = self._choose(need)
        left = _without(self.left, chosen) if chosen and need.takes else self.left
        self._given.append(_Given(need, chosen, left))
        return self._given[-1]

    def _choose(self, need: _Need) -> StampSet | None:
        """Kept where only so many stamps go on a piece: more of a kind than that make no difference to the choice."""
        if self._most is None:
            return choose_stamps(need.postage, self.left, self._values, None, abroad=need.abroad)
        most = self._most
        asked = need, tuple(min(stock.count, most) for stock in self.left)
        if asked not in self._chosen:
            found = choose_stamps(need.postage, self.left, self._values, most, abroad=need.abroad)
            self._chosen[asked] = found
        return self._chosen[asked]

    def _served(
        self, verdict: Verdict, given: _Given, shown: Mapping[int, tuple[Verdict, StampSet, Verdict]]
    ) -> Verdict:
        chosen = given.chosen
        if chosen is not None:
            before = shown.get(id(verdict))
            same = before is not None and before[0] is verdict and before[1] == chosen
            served = before[2] if before is not None and same else replace(verdict, stamps=chosen)
            self._shown[id(verdict)] = verdict, chosen, served
            return served
        need = given.need
        buy = stamps_to_buy(need.postage, self._drawer, self._values, self._most, abroad=need.abroad)
        short = finding(
            Code.NOT_ENOUGH_STAMPS,
            postage=need.postage.text(),
            currency=need.postage.currency,
            would_do=in_words(buy.stamps) if buy else "",
        )
        return settle(verdict, [*verdict.findings, short])

    def _with_those_on_it(self, verdict: Verdict) -> Verdict:
        """Its stamps are those that were put on it; by how much they overpay changes with the price of the day."""
        on_it, offer = verdict.case.stamps_on, verdict.offer
        if not on_it or offer is None:
            return verdict
        paid = worth_of(on_it, self._values, offer.price.currency)
        over = paid - offer.price if offer.price < paid else zero(paid.currency)
        return replace(verdict, stamps=StampSet(on_it, over))


def _need(verdict: Verdict) -> _Need | None:
    if verdict.case.is_paid or verdict.payment is not Payment.STAMPED or verdict.offer is None:
        return None
    return _Need(verdict.offer.price, verdict.is_abroad, not verdict.stays_here)


def in_words(stamps: Iterable[StampCount]) -> str:
    """`2 forever, 1 additional ounce`; stamps with a printed value say it: `3 of 0.10`."""
    return ", ".join(
        f"{number} of {value.text()}" if value is not None else f"{number} {str(kind).replace('_', ' ')}"
        for kind, value, number in stamps
    )


def _without(drawer: Drawer, chosen: StampSet) -> Drawer:
    left = list(drawer)
    for kind, value, number in chosen.stamps:
        at = next(
            i for i, stock in enumerate(left) if (stock.kind, stock.value) == (kind, value) and stock.count >= number
        )
        left[at] = replace(left[at], count=left[at].count - number)
    return tuple(left)
