"""Assign stamps from one drawer to a whole batch: the best way to pay for all of it, and what to buy.

A piece with its stamps on needs none: it shows those it has. One that can't go now is shown stamps left over from the
others, and uses none.
"""

from __future__ import annotations

from bisect import bisect_left, insort
from collections import Counter
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, replace
from itertools import zip_longest

from desk.domain.finding import Code, Finding, finding
from desk.domain.money import Money, zero
from desk.domain.shop.stamp import StampKind, StampStock
from desk.rates.stamps.stamp_plan import StampNeed, StampPlan, plan_stamps
from desk.rates.stamps.stamps import StampCount, StampSet, choose_stamps, stamp_values, stamps_to_buy, worth_of
from desk.session.verdict.judge import settle
from desk.session.verdict.payment import Payment
from desk.session.verdict.verdict import Terms, Verdict
from desk.session.words.stamp_names import stamp_counts

Drawer = tuple[StampStock, ...]
OVERPAID_NOTED = 20  # minor units: an overpayment above this is noted (common practice, no source)


Turn = tuple[int, int]  # position in the order of weighing, piece id


@dataclass(slots=True)
class _Served:
    """A weighed piece: its verdict as judged, the stamps it needs, and the verdict with the stamps it was last given."""

    turn: Turn
    bare: Verdict
    need: StampNeed | None
    stamps: StampSet | None
    verdict: Verdict


class StampsOut:
    """The drawer of a batch, and the stamps each piece was given. The shop's rules limit stamps per piece.

    Pieces are kept in one line per need, so that after one weighing only the lines whose stamps changed are walked.
    """

    def __init__(self, terms: Terms) -> None:
        self._drawer: Drawer = terms.shop.stamps
        self._values: Mapping[StampKind, Money] = stamp_values(terms.rulebook.charts, terms.on)
        self._most = terms.shop.policy.max_stamps
        self._served: dict[int, _Served] = {}
        self._lines: dict[StampNeed, list[_Served]] = {}  # those that take stamps, in the order of weighing
        self._held: dict[int, _Served] = {}  # those that can't go now
        self._sets: dict[StampSet, StampSet] = {}  # one record for equal sets, so that comparing them is quick
        self._touched: set[StampNeed] = set()  # lines where a piece came or left
        self._asked: dict[StampNeed, int] = {}
        self._plan = StampPlan({}, {})
        self.left: Drawer = self._drawer

    def restock(self, drawer: Drawer) -> None:
        """Start from another drawer."""
        self._drawer = self.left = drawer
        self._asked = {}

    def hand_out(self, verdicts: Iterable[Verdict]) -> list[Verdict]:
        """Return exactly these verdicts with stamps, in the order given."""
        for number in [*self._served]:
            self.remove(number)
        for place, verdict in enumerate(verdicts):
            self.put((place, place), verdict)
        self.reassign()
        return [one.verdict for one in self._served.values()]

    def put(self, turn: Turn, verdict: Verdict) -> None:
        """Add a weighed piece that is not there yet, by its turn. `reassign` gives it its stamps."""
        need = need_of(verdict)
        on_it = self._on_it(verdict) if need is None else None
        one = _Served(turn, verdict, need, on_it, verdict if on_it is None else _with_stamps(verdict, on_it))
        self._served[turn[1]] = one
        if need is not None and verdict.stays_here:
            self._held[turn[1]] = one
        elif need is not None:
            insort(self._lines.setdefault(need, []), one, key=_turn)
            self._touched.add(need)

    def remove(self, number: int) -> None:
        """Remove a piece by its id. KeyError for no such piece."""
        one = self._served.pop(number)
        if self._held.pop(number, None) is None and one.need is not None:
            line = self._lines[one.need]
            del line[bisect_left(line, one.turn, key=_turn)]
            self._touched.add(one.need)
            if not line:
                del self._lines[one.need]

    def reassign(self) -> dict[int, Verdict]:
        """Plan again if needs or drawer changed; return the verdicts of pieces whose stamps changed.

        Of equal pieces, those weighed first get the better sets.
        """
        asked = {need: len(line) for need, line in self._lines.items()}
        if asked != self._asked:
            self._replan(asked)
        changed = [one for need in self._touched & self._lines.keys() for one in self._serve(need)]
        self._touched = set()
        shown = {one.need: self._shown(one.need) for one in self._held.values() if one.need is not None}
        changed += [one for one in self._held.values() if one.need is not None and _give(one, shown[one.need])]
        return {one.turn[1]: one.verdict for one in changed}

    def given(self, number: int) -> Verdict:
        """Return the verdict of a piece with its stamps. KeyError for no such piece."""
        return self._served[number].verdict

    @property
    def short(self) -> tuple[str, ...]:
        """The numbers of the pieces without enough stamps, in the order weighed."""
        lacking = [one for need in self._plan.short for one in self._lines.get(need, ()) if one.stamps is None]
        return tuple(one.bare.case.number for one in sorted(lacking, key=_turn))

    def _serve(self, need: StampNeed) -> Iterator[_Served]:
        """Give a line its sets in turn; yield the pieces that were given another."""
        for one, chosen in zip_longest(self._lines[need], _in_turn(self._plan.sets[need])):
            if chosen is not one.stamps and _give(one, chosen):
                yield one

    def _replan(self, asked: dict[StampNeed, int]) -> None:
        """Plan for the whole batch, and mark the lines whose sets changed."""
        self._asked = asked
        before = self._plan
        planned = plan_stamps(asked, self._drawer, self._values, self._most)
        same = self._sets.setdefault
        sets = {need: tuple((same(one, one), count) for one, count in runs) for need, runs in planned.sets.items()}
        self._plan = StampPlan(sets, planned.short)
        self._touched |= {need for need, runs in sets.items() if runs != before.sets.get(need)}
        self.left = _without(self._drawer, self._plan)

    def shortage(self) -> Finding | None:
        """Return the stamps to buy so that every piece can be stamped, as one finding; None when there are enough."""
        if not self._plan.short:
            return None
        buy: Counter[tuple[StampKind, Money | None]] = Counter()
        for need, pieces in self._plan.short.items():
            wanted = self._to_buy(need)
            for kind, value, number in wanted.stamps if wanted else ():
                buy[kind, value] += number * pieces
        counts = [StampCount(kind, value, number) for (kind, value), number in buy.items()]
        return finding(Code.NOT_ENOUGH_STAMPS, pieces=sum(self._plan.short.values()), would_do=stamp_counts(counts))

    def _to_buy(self, need: StampNeed) -> StampSet | None:
        """Return the best set if every kind could be bought, without stamps meant for other kinds of letters."""
        kinds = {
            kind: worth
            for kind, worth in self._values.items()
            if need.nonmachinable or kind is not StampKind.NONMACHINABLE
        }
        return stamps_to_buy(need.postage, self._drawer, kinds, self._most, abroad=need.abroad)

    def _shown(self, need: StampNeed) -> StampSet | None:
        return choose_stamps(need.postage, self.left, self._values, self._most, abroad=need.abroad)

    def _on_it(self, verdict: Verdict) -> StampSet | None:
        """Return the stamps that were put on it; how much they overpay depends on the day's price."""
        on_it, offer = verdict.case.stamps_on, verdict.offer
        if not on_it or offer is None:
            return None
        paid = worth_of(on_it, self._values, offer.price.currency)
        return StampSet(on_it, paid - offer.price if offer.price < paid else zero(paid.currency))


def need_of(verdict: Verdict) -> StampNeed | None:
    """Return the stamps a piece needs; None when it is not stamped, or already has its postage."""
    offer = verdict.offer
    if verdict.case.is_paid or verdict.payment is not Payment.STAMPED or offer is None:
        return None
    nonmachinable = any(fee.code == "nonmachinable" for fee in offer.surcharges)
    return StampNeed(offer.price, verdict.is_abroad, nonmachinable)


def _turn(one: _Served) -> Turn:
    return one.turn


def _give(one: _Served, chosen: StampSet | None) -> bool:
    """Give a piece these stamps; return whether they changed."""
    if chosen == one.stamps:
        return False
    one.stamps = chosen
    one.verdict = one.bare if chosen is None else _with_stamps(one.bare, chosen)
    return True


def _in_turn(sets: Iterable[tuple[StampSet, int]]) -> Iterator[StampSet]:
    return (chosen for chosen, number in sets for _ in range(number))


def _with_stamps(verdict: Verdict, chosen: StampSet) -> Verdict:
    """Return the verdict with its stamps: their value becomes its postage, and a large overpayment is noted."""
    money = verdict.money and replace(verdict.money, overpaid=chosen.overpaid)
    stamped = replace(verdict, stamps=chosen, money=money)
    if chosen.overpaid.minor <= OVERPAID_NOTED:
        return stamped
    over = chosen.overpaid
    note = finding(Code.STAMPS_OVERPAID, "the stamps on hand", overpaid=over.text(), currency=over.currency)
    return settle(stamped, [*verdict.findings, note])


def _without(drawer: Drawer, plan: StampPlan) -> Drawer:
    used: Counter[tuple[StampKind, Money | None]] = Counter()
    for sets in plan.sets.values():
        for chosen, pieces in sets:
            for kind, value, number in chosen.stamps:
                used[kind, value] += number * pieces
    left = []
    for stock in drawer:
        taken = min(stock.count, used[stock.kind, stock.value])
        used[stock.kind, stock.value] -= taken
        left.append(replace(stock, count=stock.count - taken))
    return tuple(left)
