"""The pile as a whole: every piece judged, the stamps handed out, and what is to be said once about the charts."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable
from dataclasses import dataclass

from desk.costs.ledger import PieceMoney, total
from desk.domain.finding import Finding
from desk.domain.money import zero
from desk.domain.stamp import StampStock
from desk.domain.stands import BESIDE_THE_LINE, Stand
from desk.rates.quote import chart_findings
from desk.session.pile.stamps_out import StampsOut
from desk.session.verdict.case import Case
from desk.session.verdict.judge import judge
from desk.session.verdict.verdict import Terms, Verdict


@dataclass(frozen=True, slots=True)
class Batch:
    """The verdicts in the order of the cases; the charts' findings, once each; and what is left in the drawer."""

    verdicts: tuple[Verdict, ...]
    chart_findings: tuple[Finding, ...]
    drawer_left: tuple[StampStock, ...]

    def counts(self) -> dict[str, int]:
        """How many pieces stand where; every stand on the line is named, also with none."""
        counted = Counter(verdict.stands for verdict in self.verdicts)
        return {str(stand): counted[stand] for stand in Stand if stand not in BESIDE_THE_LINE or counted[stand]}

    def money(self, currency: str) -> PieceMoney:
        """The sums over all weighed pieces."""
        return total([verdict.money for verdict in self.verdicts if verdict.money is not None], zero(currency))


def judge_batch(cases: Iterable[Case], terms: Terms) -> Batch:
    """Judge every case, and hand out the stamps in the order of the cases."""
    out = StampsOut(terms)
    return batch_of(out.hand_out(judge(case, terms) for case in cases), terms, out)


def batch_of(verdicts: Iterable[Verdict], terms: Terms, out: StampsOut) -> Batch:
    """A batch of verdicts that have their stamps."""
    served = tuple(verdicts)
    quotes = [verdict.quote for verdict in served if verdict.quote is not None]
    return Batch(served, chart_findings(quotes, terms.on), out.left)
