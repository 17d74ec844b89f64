"""The pile as a whole: every piece judged, and the stamps of the drawer handed out in the order of weighing."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace

from desk.costs.ledger import PieceMoney, total
from desk.domain.finding import Finding, finding
from desk.domain.money import Money, zero
from desk.domain.stamp import StampKind, StampStock
from desk.domain.stands import Stand
from desk.rates.quote import chart_findings
from desk.rates.stamps import StampSet, choose_stamps, stamp_values
from desk.session.case import Case
from desk.session.judge import judge, settle
from desk.session.payment import Payment
from desk.session.verdict import Terms, Verdict


@dataclass(frozen=True, slots=True)
class Batch:
    """The verdicts in the order of the cases, and what is to be said once about the charts used."""

    verdicts: tuple[Verdict, ...]
    chart_findings: tuple[Finding, ...]
    drawer_left: tuple[StampStock, ...]

    def counts(self) -> dict[str, int]:
        """How many pieces stand where; every stand on the line is named, also with none."""
        counted = Counter(verdict.stands for verdict in self.verdicts)
        on_the_line = (Stand.TO_WEIGH, Stand.NEEDS_A_LOOK, Stand.READY, Stand.LABELED, Stand.HANDED_OVER)
        return {str(stand): counted[stand] for stand in (*on_the_line, *(s for s in counted if s not in on_the_line))}

    def money(self, currency: str) -> PieceMoney:
        """The sums over all weighed pieces."""
        return total([verdict.money for verdict in self.verdicts if verdict.money is not None], zero(currency))


def judge_batch(cases: Iterable[Case], terms: Terms) -> Batch:
    """Judge every case and hand out the stamps."""
    verdicts = [judge(case, terms) for case in cases]
    drawer = Drawer(terms.shop.stamps, stamp_values(terms.rulebook.charts, terms.on), terms.shop.policy.max_stamps)
    stamped = tuple(_with_stamps(verdict, drawer) for verdict in verdicts)
    offers = [verdict.quote for verdict in stamped if verdict.quote is not None]
    return Batch(stamped, chart_findings(offers, terms.on), drawer.left())


class Drawer:
    """The stamps still on hand while a pile is gone through."""

    def __init__(self, stock: Sequence[StampStock], values: dict[StampKind, Money], most: int | None) -> None:
        self._counts = list(stock)
        self._values = values
        self._most = most

    def choose(self, postage: Money, *, abroad: bool) -> StampSet | None:
        """The best lawful set for a postage from what is left; None when the drawer cannot make it."""
        return choose_stamps(postage, self._counts, self._values, self._most, abroad=abroad)

    def take(self, chosen: StampSet) -> None:
        """Count a set out of the drawer."""
        for kind, value, count in chosen.stamps:
            at = next(i for i, s in enumerate(self._counts) if (s.kind, s.value) == (kind, value) and s.count >= count)
            self._counts[at] = replace(self._counts[at], count=self._counts[at].count - count)

    def left(self) -> tuple[StampStock, ...]:
        """What is left."""
        return tuple(self._counts)


def _with_stamps(verdict: Verdict, drawer: Drawer) -> Verdict:
    """A stopped piece is shown its stamps but takes none; it is not going anywhere yet."""
    if verdict.payment is not Payment.STAMPED or verdict.offer is None:
        return verdict
    chosen = drawer.choose(verdict.offer.price, abroad=verdict.is_abroad)
    if chosen is None:
        short = finding("not-enough-stamps", postage=verdict.offer.price.text())
        return settle(verdict, [*verdict.findings, short])
    if not verdict.is_stopped:
        drawer.take(chosen)
    return replace(verdict, stamps=chosen)
