"""The mailing date of a batch, saved in the store so that it can be undone and survives a restart."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, replace
from datetime import date

from desk.domain.money import Money
from desk.domain.orders.piece import PieceKey
from desk.rates.stamps.stamps import stamp_values, worth_of
from desk.session.sitting import Sitting
from desk.session.verdict.judge import judge
from desk.session.verdict.verdict import Terms, Verdict
from desk.session.words.figures import day_in_words
from desk.store.tables import settings

NAME = "posting date"


@dataclass(frozen=True, slots=True)
class ShortPostage:
    """A piece with less postage on it than the mailing date requires, and by how much."""

    piece: PieceKey
    by: Money


@dataclass(frozen=True, slots=True)
class PostingDay:
    """The chosen mailing date, the day of the sitting it was chosen in, and what was short of postage then."""

    on: date | None = None
    said_on: date | None = None
    short: tuple[ShortPostage, ...] = ()


def posting_day(sitting: Sitting) -> date:
    """Return the mailing date in use: the chosen one until it has passed, then the day of the sitting.

    A past date counts only on the day it was chosen, since nothing can be mailed yesterday.
    """
    return _kept(sitting).on or sitting.on


def post_on(sitting: Sitting, on: date, short: tuple[ShortPostage, ...] = ()) -> None:
    """Set the mailing date and record the pieces short of postage on it, as one step. Everything is priced again."""
    with sitting.store.act(f"Mailing date: {day_in_words(on)}") as tx:
        settings.write(tx, NAME, PostingDay(on, sitting.on, short))
    sitting.announce(sitting.store.last_changes)


def short_now(sitting: Sitting, verdicts: Iterable[Verdict]) -> tuple[ShortPostage, ...]:
    """Return what was short when the mailing date was chosen and still waits here with its postage on."""
    lying = {verdict.case.key for verdict in verdicts if _lies_here(verdict)}
    return tuple(one for one in _kept(sitting).short if one.piece in lying)


def short_on(
    verdicts: Iterable[Verdict], terms: Terms, on: date, before: Iterable[ShortPostage] = ()
) -> tuple[ShortPostage, ...]:
    """Return the pieces that would be short of postage on another mailing date, in their order.

    A piece with its postage on that is not handed over carries what it costs now, minus any shortage before. Where its
    stamps are recorded, it carries what they count for on the other day, since Forever stamps rise with the price (DMM
    604.1.1).
    """
    then, lacks = replace(terms, on=on), {one.piece: one.by for one in before}
    values = stamp_values(terms.rulebook.charts, on)
    short = []
    for verdict in filter(_lies_here, verdicts):
        case, asked = verdict.case, judge(verdict.case, then).offer
        paid = _paid(verdict, lacks.get(case.key))
        if paid is not None and case.stamps_on:
            paid = worth_of(case.stamps_on, values, paid.currency)
        if paid is not None and asked is not None and paid.currency == asked.price.currency and paid < asked.price:
            short.append(ShortPostage(case.key, asked.price - paid))
    return tuple(short)


def _paid(verdict: Verdict, lacking: Money | None) -> Money | None:
    """Return the postage on the piece by current prices; None where it has no price."""
    if verdict.offer is None or lacking is None:
        return verdict.offer.price if verdict.offer else None
    return verdict.offer.price - lacking


def _lies_here(verdict: Verdict) -> bool:
    return verdict.case.postage_on and not verdict.case.handed_over


def _kept(sitting: Sitting) -> PostingDay:
    """Return the chosen date while it still applies."""
    with sitting.store.reading() as conn:
        saved = settings.read(conn, NAME, PostingDay())
    counts = saved.on is not None and (saved.on >= sitting.on or saved.said_on == sitting.on)
    return saved if counts else PostingDay()
