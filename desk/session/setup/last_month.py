"""What last month's packages would have cost with a new price list, and what they cost by the lists in use."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass, replace
from datetime import date, timedelta

from desk.domain.money import Money
from desk.rates.lists.chart import Charts
from desk.session.pile.pile import Pile
from desk.session.setup.price_effect import kind_of, price_at
from desk.session.sitting import Sitting
from desk.session.verdict.verdict import Terms, Verdict
from desk.session.words.figures import amount_words, month_in_words, number_in_words, pieces_in_words
from desk.store.tables import ledger

Mailed = tuple[date, Verdict]  # a package and its mailing date


@dataclass(frozen=True, slots=True)
class LastMonth:
    """The packages mailed in a month that both lists have a price for, and what they cost by each."""

    month: date  # its first day
    packages: int
    of_packages: int
    before: Money
    after: Money


def mailed_last_month(sitting: Sitting, pile: Pile) -> tuple[date, tuple[Mailed, ...]]:
    """Return the month before the mailing date, by its first day, and the priced packages mailed in it."""
    last = sitting.on.replace(day=1) - timedelta(days=1)
    with sitting.store.reading() as conn:
        days = {row.piece_id: row.mailed_on for row in ledger.rows(conn, last.replace(day=1), last)}
    pile.bring(days)
    mailed = ((days[number], pile.verdicts[number]) for number in sorted(days) if number in pile.verdicts)
    return last.replace(day=1), tuple(one for one in mailed if one[1].offer is not None and one[1].case.handed_over)


def last_month(month: date, mailed: Sequence[Mailed], terms: Terms, charts: Charts, on: date) -> LastMonth | None:
    """Return what these packages cost on their mailing dates with the lists in use, and on a day with others; None
    without any.

    Packages with the same mailing date, mailer, billed weight, service, zone and price cost the same, so only one of
    each is judged.
    """
    kinds = Counter(map(_kind, mailed))
    samples = {_kind(one): one for one in mailed}
    by_old = {day: replace(terms, on=day) for day in {day for day, _ in mailed}}
    by_new = replace(terms, rulebook=replace(terms.rulebook, charts=charts), on=on)
    packages = before = after = 0
    for kind, count in kinds.items():
        day, verdict = samples[kind]
        old, new = price_at(verdict.case, by_old[day]), price_at(verdict.case, by_new)
        if old is not None and new is not None:
            packages, before, after = packages + count, before + old.minor * count, after + new.minor * count
    currency = terms.shop.policy.currency
    if not packages:
        return None
    return LastMonth(month, packages, len(mailed), Money(before, currency), Money(after, currency))


def _kind(mailed: Mailed) -> tuple[object, ...]:
    day, verdict = mailed
    assert verdict.offer is not None
    return (day, *kind_of(verdict), verdict.offer.price)


def last_month_words(month: LastMonth | None) -> str:
    """Return what last month would have cost, in a sentence; empty when nothing was mailed."""
    if month is None:
        return ""
    pieces = pieces_in_words(month.of_packages)
    if month.of_packages != month.packages:
        pieces = f"{number_in_words(month.packages)} of {pieces}"
    cost = f"{amount_words(month.after)} instead of {amount_words(month.before)}"
    return f"Last month ({month_in_words(month.month)}, {pieces}) would have cost {cost}."
