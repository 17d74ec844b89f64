"""Differences between paid and estimated postage, with their likely causes, from the ledger and price lists."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Sequence
from dataclasses import replace
from datetime import date

from desk.costs.paid_difference import Cause, DifferenceGroup, PaidPiece, Reason, differ, differences
from desk.domain.ledger import PAID, REPLACED, Entry, LedgerRow
from desk.domain.money import Money
from desk.rates.lists.chart import Charts
from desk.session.money.one_change import OneChange
from desk.session.pile.pile import Pile
from desk.session.sitting import Sitting
from desk.session.words.figures import short_day
from desk.session.words.services import service_words, services_meant
from desk.store.tables import ledger, ledger_sums, pieces
from desk.store.tables.orders import StoreView

__all__ = ["DifferenceGroup", "OneChange", "PaidPiece", "causes_in_words", "is_about_zones", "paid_differences"]

USUAL_LEAST = Money(10)  # differences up to this are ignored unless the shop sets another sum


def paid_differences(
    pile: Pile, rows: Iterable[LedgerRow], more_than: Money = USUAL_LEAST, known: OneChange | None = None
) -> list[DifferenceGroup]:
    """Return groups of pieces whose paid postage differs from the estimate by more than a sum, the largest first.

    What was paid includes later adjustments and refunds of the carrier. `known` are answers under the pile's terms.
    """
    changes = known or OneChange(pile.terms)
    return differences(_with_causes(pile, _differing(rows, more_than), changes), more_than)


def is_about_zones(group: DifferenceGroup) -> bool:
    """Return True when the first cause is the zone, so that the zone chart is what to check."""
    return group.causes[0].reason is Reason.ZONE_OFF


def pieces_that_differ(sitting: Sitting, more_than: Money = USUAL_LEAST) -> list[int]:
    """Return the ids of the pieces in these groups; the causes of a piece that left are known once it was read."""
    with sitting.store.reading() as conn:
        return _ids_that_differ(conn, more_than)


def rows_that_differ(sitting: Sitting, more_than: Money = USUAL_LEAST) -> list[LedgerRow]:
    """Return the rows of these pieces only, so that a long ledger is not read whole."""
    with sitting.store.reading() as conn:
        return ledger.of_pieces(conn, _ids_that_differ(conn, more_than))


def _ids_that_differ(conn: StoreView, more_than: Money) -> list[int]:
    both = ledger_sums.paid_against_estimated(conn)
    return [one.piece_id for one in both if differ(one.paid, one.estimated, more_than)]


def causes_in_words(causes: Sequence[Cause]) -> str:
    """Return every cause in words, with "or" between them."""
    return " or ".join(map(_in_words, causes)) if causes else Reason.UNKNOWN.value


def _in_words(cause: Cause) -> str:
    match cause.reason:
        case Reason.BOUGHT_AS:
            return f"bought as “{cause.which}”"
        case Reason.BOUGHT_AS_UNKNOWN:
            return f"bought as “{cause.which}”, a service we don't know"
        case Reason.PRICE_OF_SERVICE:
            return f"price of {service_words(cause.which)}"
        case Reason.NEWER_LIST | Reason.OLDER_LIST:
            return f"{cause.reason.value} ({short_day(date.fromisoformat(cause.which))})"
        case Reason.ZONE_OFF:
            return f"priced as zone {cause.which}"
    return cause.reason.value


def _differing(rows: Iterable[LedgerRow], more_than: Money) -> list[tuple[PaidPiece, LedgerRow]]:
    """Return the pieces with both amounts that differ by more than a sum, each with its last estimate."""
    by_piece: dict[int, list[LedgerRow]] = defaultdict(list)
    for row in rows:
        by_piece[row.piece_id].append(row)
    pieces = (_paid_piece(entered) for entered in by_piece.values())
    return [pair for pair in pieces if pair is not None and pair[0].differs_by(more_than)]


def _paid_piece(entered: Sequence[LedgerRow]) -> tuple[PaidPiece, LedgerRow] | None:
    """Return a piece with both amounts and its last estimate; None when one of them is missing."""
    estimates = [row for row in entered if row.entry is Entry.POSTAGE_ESTIMATED and row.why != REPLACED]
    estimated = -sum(row.amount.minor for row in estimates)  # one that was undone adds up to nothing
    bought = -sum(row.amount.minor for row in entered if row.entry is Entry.POSTAGE_PAID)
    if not bought or not estimated:
        return None
    last = estimates[-1]
    refunded = sum(row.amount.minor for row in entered if row.entry is Entry.CARRIER_REFUND)
    paid = -sum(row.amount.minor for row in entered if row.entry in PAID)
    piece = PaidPiece(
        reference=last.reference,
        service=last.service,
        zone=last.zone,
        list_name=last.price_list,
        mailed_on=last.mailed_on,
        estimated=Money(estimated, last.amount.currency),
        paid=Money(paid, last.amount.currency),
        named=(Cause(Reason.REFUNDED),) if refunded and paid < estimated else (),
    )
    return piece, last


def _with_causes(pile: Pile, differing: Sequence[tuple[PaidPiece, LedgerRow]], known: OneChange) -> Iterable[PaidPiece]:
    charts = pile.terms.rulebook.charts
    with pile.sitting.store.reading() as conn:
        names = {one.id: one.bought_as for one in pieces.some_pieces(conn, [last.piece_id for _, last in differing])}
    for piece, last in differing:
        named, others = _named(piece.service, names.get(last.piece_id, ""), charts)
        verdict = None if piece.named else pile.verdicts.get(last.piece_id)  # what a refund leaves is no price
        changes = known.prices(verdict, last, piece.estimated) if verdict else []
        prices = [
            (cause, price)
            for cause, price in changes
            if others is None or cause.reason is not Reason.PRICE_OF_SERVICE or cause.which in others
        ]
        yield replace(piece, named=(*named, *piece.named), one_change=tuple(prices), list_until=_last_day(last, charts))


def _named(estimated: str, text: str, charts: Charts) -> tuple[tuple[Cause, ...], frozenset[str] | None]:
    """Return what the service named with a paid amount says, and the services whose price it may be; None: any."""
    if not text:
        return (), None
    meant = services_meant(text, charts)
    if estimated in meant:
        return (), meant
    return (Cause(Reason.BOUGHT_AS if meant else Reason.BOUGHT_AS_UNKNOWN, text),), frozenset()


def _last_day(entered: LedgerRow, charts: Charts) -> date | None:
    """Return the announced last day of the list an estimate was made by, if any."""
    of_list = date.fromisoformat(entered.price_list)
    return next((one.until for one in charts.lists.get(entered.service, ()) if one.effective == of_list), None)
