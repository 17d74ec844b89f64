"""The batch as a whole: every piece judged, stamps assigned, shared findings, and counts."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from datetime import date, datetime
from typing import TypeVar

from desk.costs.ledger import PieceMoney, total
from desk.domain.finding import REPORTED_ONCE, Code, Finding, finding
from desk.domain.money import Money, zero
from desk.domain.orders.order_status import status_key
from desk.domain.shop.shop import choice_key
from desk.domain.shop.stamp import StampKind, StampStock
from desk.domain.status import BESIDE_THE_LINE, PieceStatus
from desk.rates.extras import FIRM_SHEET, LEAST_ON_SHEET
from desk.rates.quote import chart_findings
from desk.session.pile.stamps_out import StampsOut
from desk.session.verdict.case import Case
from desk.session.verdict.judge import judge
from desk.session.verdict.verdict import Terms, Verdict

T = TypeVar("T")
StampSort = tuple[StampKind, Money | None]


@dataclass(frozen=True, slots=True)
class SharedFinding:
    """A finding reported once for the batch, with the numbers of its pieces (none: about a price list)."""

    found: Finding
    pieces: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Batch:
    """The verdicts in case order, the findings shared by all of them, and the stamps left.

    `left_last` is when pieces were handed over last on a day before mailing; None when none were.
    """

    verdicts: tuple[Verdict, ...]
    shared: tuple[SharedFinding, ...]
    drawer_left: tuple[StampStock, ...]
    left_last: datetime | None = None

    def counts(self) -> dict[str, int]:
        """Return the number of pieces by status; each status of the workflow is listed, even with none."""
        counted = Counter(verdict.status for verdict in self.verdicts)
        return {
            str(status): counted[status] for status in PieceStatus if status not in BESIDE_THE_LINE or counted[status]
        }

    def money(self, currency: str) -> PieceMoney:
        """Return the sums over all weighed pieces."""
        return total([verdict.money for verdict in self.verdicts if verdict.money is not None], zero(currency))


def judge_batch(cases: Iterable[Case], terms: Terms) -> Batch:
    """Judge every case, and assign the stamps in case order."""
    out = StampsOut(terms)
    return batch_of(out.hand_out(judge(case, terms) for case in cases), terms, out)


def batch_of(verdicts: Iterable[Verdict], terms: Terms, out: StampsOut) -> Batch:
    """Return the batch of verdicts with their stamps assigned."""
    served = tuple(verdicts)
    shortage = out.shortage()
    short = (SharedFinding(shortage, out.short),) if shortage is not None else ()
    return Batch(served, (*short, *_firm_sheet(served), *_shared(served, terms.on)), out.left)


def _firm_sheet(verdicts: Iterable[Verdict]) -> Iterator[SharedFinding]:
    """Yield an issue when too few pieces still here are on the firm sheet."""
    going = [one.case for one in verdicts if not one.case.handed_over and one.case.beside is None]
    listed = tuple(case.number for case in going if FIRM_SHEET in case.extras)
    if 0 < len(listed) < LEAST_ON_SHEET:
        source = "Price list, certificates of mailing"
        yield SharedFinding(finding(Code.FIRM_SHEET_SHORT, source, pieces=len(listed), least=LEAST_ON_SHEET), listed)


def _shared(verdicts: Iterable[Verdict], on: date) -> Iterator[SharedFinding]:
    """Return the shared findings: price lists first, then the shop, then what several pieces have in common."""
    known = tuple(verdicts)
    quotes = [verdict.quote for verdict in known if verdict.quote is not None]
    yield from map(SharedFinding, chart_findings(quotes, on))
    about: dict[tuple[object, ...], list[str]] = {}
    first: dict[tuple[object, ...], Finding] = {}
    for verdict in known:
        once = (issue for issue in verdict.findings if issue.code in REPORTED_ONCE)
        for issue in (*verdict.of_shop, *once):
            cause = _cause(issue)
            first.setdefault(cause, issue)
            about.setdefault(cause, []).append(verdict.case.number)
    old = [cause for cause, issue in first.items() if issue.code is Code.RATE_OLD]
    if old:
        together = tuple(dict.fromkeys(number for cause in old for number in about[cause]))
        yield SharedFinding(_all_old([first.pop(cause) for cause in old]), together)
    yield from (SharedFinding(issue, tuple(about[cause])) for cause, issue in first.items())


def _all_old(issues: Sequence[Finding]) -> Finding:
    """Return one note for all old exchange rates, with the age of the oldest."""
    oldest = max(issues, key=lambda one: int(str(one.facts["rate_age_days"])))
    rates = ", ".join(sorted({str(one.facts["rate"]) for one in issues}))
    return replace(oldest, facts={**oldest.facts, "rate": rates})


def _cause(issue: Finding) -> tuple[object, ...]:
    """Return the key that merges findings: the kind of a tax number, a status or choice however it is spelled, else all facts."""
    facts = issue.facts
    if issue.code in (Code.TAX_ID_MISSING, Code.TAX_ID_MALFORMED):
        return issue.code, facts["kind"]
    if issue.code is Code.STATUS_UNSORTED:
        return issue.code, status_key(str(facts["status"]))
    if issue.code is Code.CHOICE_UNSORTED:
        return issue.code, choice_key(str(facts["choice"]))
    return (issue.code, *sorted(facts.items()))


class Counts:
    """Running counts over verdicts on a mailing date, so that no screen loops over all pieces.

    `status`: pieces by status. `last_days`: last days of outdated price lists in use. `stamps`: how many of each kind
    to put on. Entries that reach zero are removed.
    """

    def __init__(self, on: date, verdicts: Iterable[Verdict] = ()) -> None:
        self._on = on
        self.status: Counter[PieceStatus] = Counter()
        self.last_days: Counter[date] = Counter()
        self.stamps: Counter[StampSort] = Counter()
        for verdict in verdicts:
            self.add(verdict)

    def add(self, verdict: Verdict) -> None:
        """Count a verdict."""
        self._count(verdict, 1)

    def take_away(self, verdict: Verdict) -> None:
        """Stop counting a verdict."""
        self._count(verdict, -1)

    def _count(self, verdict: Verdict, by: int) -> None:
        _move(self.status, verdict.status, by)
        chosen = verdict.quote.chosen if verdict.quote is not None else None
        if chosen is not None and chosen.chart.is_old(self._on):
            _move(self.last_days, chosen.chart.last_day, by)
        for sort, number in _stamps_to_put_on(verdict):
            _move(self.stamps, sort, by * number)


def stamps_to_put_on(verdicts: Iterable[Verdict]) -> Counter[StampSort]:
    """Return how many stamps of each sort are to be put on."""
    counted: Counter[StampSort] = Counter()
    for verdict in verdicts:
        for sort, number in _stamps_to_put_on(verdict):
            counted[sort] += number
    return counted


def _stamps_to_put_on(verdict: Verdict) -> Iterator[tuple[StampSort, int]]:
    """Return the stamps still to put on; none for a piece that is stopped, set aside, or paid."""
    if verdict.stamps is not None and not verdict.stays_here and not verdict.case.is_paid:
        for kind, value, number in verdict.stamps.stamps:
            yield (kind, value), number


def _move(counted: Counter[T], what: T, by: int) -> None:
    counted[what] += by
    if not counted[what]:
        del counted[what]
