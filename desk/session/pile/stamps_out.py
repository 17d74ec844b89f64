"""Assign stamps from one drawer to a whole batch: the best way to pay for all of it, and what to buy.

A piece with its stamps on needs none: it shows those it has. One that can't go now is shown stamps left over from the
others, and uses none.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, replace

from desk.domain.finding import Code, Finding, finding
from desk.domain.money import Money, zero
from desk.domain.shop.stamp import StampKind, StampStock
from desk.rates.stamps.stamp_plan import StampNeed, StampPlan, plan_stamps
from desk.rates.stamps.stamps import StampCount, StampSet, choose_stamps, stamp_values, stamps_to_buy, worth_of
from desk.session.verdict.judge import settle
from desk.session.verdict.payment import Payment
from desk.session.verdict.verdict import Terms, Verdict

Drawer = tuple[StampStock, ...]
OVERPAID_NOTED = 20  # minor units: an overpayment above this is noted (common practice, no source)


@dataclass(slots=True)
class _Served:
    """A verdict as judged, the stamps it needs, and the verdict with the stamps it was last given."""

    bare: Verdict
    need: StampNeed | None
    takes: bool
    stamps: StampSet | None
    verdict: Verdict


class StampsOut:
    """The drawer of a batch, and the stamps each piece was given. The shop's rules limit stamps per piece.

    What a piece needs is kept by the identity of its verdict, since every weighing reassigns the whole batch.
    """

    def __init__(self, terms: Terms) -> None:
        self._drawer: Drawer = terms.shop.stamps
        self._values: Mapping[StampKind, Money] = stamp_values(terms.rulebook.charts, terms.on)
        self._most = terms.shop.policy.max_stamps
        self._needs: dict[StampNeed, StampNeed] = {}  # one record for equal needs, compared by identity
        self._asked: dict[int, int] = {}
        self._plan = StampPlan({}, {})
        self._served: dict[int, _Served] = {}
        self.left: Drawer = self._drawer
        self.short: tuple[str, ...] = ()

    def restock(self, drawer: Drawer) -> None:
        """Start from another drawer."""
        self._drawer = drawer
        self._asked = {}
        self.left = drawer

    def hand_out(self, verdicts: Iterable[Verdict]) -> list[Verdict]:
        """Return the verdicts with stamps, in the order given; of equal pieces, the first get the better sets."""
        asking = [self._known(verdict) for verdict in verdicts]
        self._served = {id(one.bare): one for one in asking}
        asked = Counter([id(one.need) for one in asking if one.takes])
        if asked != self._asked:
            self._asked = asked
            self._replan(asked)
        coming = {id(need): _in_turn(sets) for need, sets in self._plan.sets.items()}
        short = []
        for one in asking:
            if one.takes:
                chosen = next(coming[id(one.need)], None)
                if chosen is None:
                    short.append(one.bare.case.key.reference)
            else:
                chosen = self._shown(one.need) if one.need is not None else one.stamps
            if chosen is not one.stamps and chosen != one.stamps:
                one.stamps = chosen
                one.verdict = one.bare if chosen is None else _with_stamps(one.bare, chosen)
        self.short = tuple(short)
        return [one.verdict for one in asking]

    def _known(self, verdict: Verdict) -> _Served:
        """Return what is kept for a verdict, else what it needs; a paid one has the stamps that are on it."""
        kept = self._served.get(id(verdict))
        if kept is not None and kept.bare is verdict:
            return kept
        need = need_of(verdict)
        if need is None:
            on_it = self._on_it(verdict)
            return _Served(verdict, None, False, on_it, verdict if on_it is None else _with_stamps(verdict, on_it))
        need = self._needs.setdefault(need, need)
        return _Served(verdict, need, not verdict.stays_here, None, verdict)

    def _replan(self, asked: Mapping[int, int]) -> None:
        counts = {need: asked[id(need)] for need in self._needs if id(need) in asked}
        self._plan = plan_stamps(counts, self._drawer, self._values, self._most)
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
        return finding(Code.NOT_ENOUGH_STAMPS, pieces=sum(self._plan.short.values()), would_do=in_words(counts))

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


def in_words(stamps: Iterable[StampCount]) -> str:
    """Return `2 forever, 1 additional ounce`; stamps with a face value give it: `3 of $0.10`."""
    return ", ".join(
        f"{number} of {value.text()}" if value is not None else f"{number} {str(kind).replace('_', ' ')}"
        for kind, value, number in stamps
    )


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
