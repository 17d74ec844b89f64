"""Differences between paid and estimated postage, with the likely reason, from the ledger and price lists."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable

from desk.costs.paid_difference import DifferenceGroup, PaidPiece, Reason, differences
from desk.domain.ledger import REPLACED, Entry, LedgerRow
from desk.domain.money import Money
from desk.domain.weight import POUND_G, Weight
from desk.rates.offer import Offer
from desk.session.pile.pile import Pile

__all__ = ["DifferenceGroup", "PaidPiece", "is_about_zones", "paid_differences"]

POUND = Weight(POUND_G)
USUAL_LEAST = Money(10)  # differences up to this are ignored unless the shop sets another sum


def paid_differences(pile: Pile, rows: Iterable[LedgerRow], more_than: Money = USUAL_LEAST) -> list[DifferenceGroup]:
    """Return groups of pieces whose paid postage differs from the estimate by more than a sum, largest last."""
    by_piece: dict[int, list[LedgerRow]] = defaultdict(list)
    for row in rows:
        by_piece[row.piece_id].append(row)
    found = (_paid_piece(pile, piece_id, entered) for piece_id, entered in by_piece.items())
    return differences((piece for piece in found if piece is not None), more_than)


def is_about_zones(group: DifferenceGroup) -> bool:
    """Return True when the likely reason is the zone, so that the zone chart is what to check."""
    return group.reason is Reason.ZONE_OFF


def pieces_that_differ(pile: Pile, rows: Iterable[LedgerRow], more_than: Money = USUAL_LEAST) -> list[int]:
    """Return the ids of the pieces in these groups; the reason of a piece that left is known once it was read."""
    entered = list(rows)
    ids = {row.reference: row.piece_id for row in entered}
    return [ids[piece.reference] for group in paid_differences(pile, entered, more_than) for piece in group.pieces]


def _paid_piece(pile: Pile, piece_id: int, entered: list[LedgerRow]) -> PaidPiece | None:
    """Return a piece with both amounts; None when one of them is missing."""
    paid = sum(-row.amount.minor for row in entered if row.entry is Entry.POSTAGE_PAID)
    estimates = [row for row in entered if row.entry is Entry.POSTAGE_ESTIMATED and row.why != REPLACED]
    estimated = -sum(row.amount.minor for row in estimates)  # one that was undone adds up to nothing
    if not paid or not estimated:
        return None
    last = estimates[-1]
    verdict = pile.verdicts.get(piece_id)
    offer = verdict.offer if verdict and verdict.offer and verdict.offer.service == last.service else None
    return PaidPiece(
        reference=last.reference,
        service=last.service,
        zone=last.zone,
        list_name=last.price_list,
        mailed_on=last.mailed_on,
        estimated=Money(estimated, last.amount.currency),
        paid=Money(paid, last.amount.currency),
        list_until=offer.chart.until if offer else None,
        neighbors=_neighbors(offer, verdict.extras_price) if verdict and offer else (),
        next_weight=_next_weight(offer, verdict.extras_price) if verdict and offer else None,
        dimensional=_by_size(pile, offer, verdict.extras_price) if verdict and offer else (),
    )


def _neighbors(offer: Offer, extras: Money) -> tuple[Money, ...]:
    """Return the prices one zone nearer and one farther, with the same fees and extras."""
    if not offer.key.isdigit():
        return ()
    zones = (str(int(offer.key) - 1), str(int(offer.key) + 1))
    rows = (offer.chart.row(offer.weight, zone) for zone in zones)
    return tuple(row.price + (offer.price - offer.base) + extras for row in rows if row is not None)


def _by_size(pile: Pile, offer: Offer, extras: Money) -> tuple[Money, ...]:
    """Return the prices if the carrier measured it larger: with a fee for size, or a pound more where size counts.

    Fees are those of all lists of the service, since a newer list may not show any.
    """
    charged = {fee.code for fee in offer.surcharges}
    lists = pile.terms.rulebook.charts.lists.get(offer.service, ())
    fees = {fee.amount.minor for chart in lists for fee in chart.surcharges if fee.code not in charged}
    prices = [offer.price + extras + Money(fee, extras.currency) for fee in sorted(fees)]
    if offer.of.by_size is not None and (row := offer.chart.row(offer.of.by_size + POUND, offer.key)) is not None:
        prices.append(row.price + (offer.price - offer.base) + extras)
    return tuple(prices)


def _next_weight(offer: Offer, extras: Money) -> Money | None:
    """Return the price one weight step up, with the same fees and extras."""
    rows = offer.chart.rows.get(offer.key, ())
    above = [row for row in rows if offer.row is not None and offer.row.max_weight < row.max_weight]
    return above[0].price + (offer.price - offer.base) + extras if above else None
