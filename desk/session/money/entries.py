"""The ledger entries of a piece when it is handed over."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable
from dataclasses import replace
from datetime import date

from desk.domain.ledger import REPLACED, Entry, LedgerRow
from desk.domain.money import Money, zero
from desk.session.money.stock_moves import stamp_costs
from desk.session.verdict.money import refund_due
from desk.session.verdict.verdict import Verdict
from desk.store.tables import ledger, pieces
from desk.store.transaction import Transaction


def entries_of(
    verdict: Verdict, piece_id: int, mailed_on: date, paid: Money | None = None, stamp_cost: Money | None = None
) -> list[LedgerRow]:
    """Return the ledger rows of a priced piece; empty without a price. Amounts spent are negative.

    `paid` is the actual cost of its postage, which replaces the estimate at once, and `stamp_cost` what its stamps were bought for, if known.
    """
    money, offer = verdict.money, verdict.offer
    if money is None or offer is None:
        return []
    address = verdict.case.order.address
    over = verdict.stamps.overpaid if verdict.stamps else zero(money.postage.currency)
    amounts = {
        Entry.SHIPPING_PAID: money.charged,
        Entry.POSTAGE_ESTIMATED: -money.postage,
        Entry.POSTAGE_PAID: zero(over.currency) if paid is None else -paid,
        Entry.STAMPS_OVER: -over,
        Entry.STAMP_PRICE: zero(over.currency) if stamp_cost is None else offer.price + over - stamp_cost,
        Entry.MATERIALS: -money.materials,
        Entry.BUYER_REFUND: -refund_due(verdict),
    }
    rows = [
        LedgerRow(
            entry=entry,
            amount=amount,
            mailed_on=mailed_on,
            piece_id=piece_id,
            order=verdict.case.key.order,
            reference=verdict.case.key.reference,
            service=offer.service,
            zone=offer.key,
            price_list=offer.chart.effective.isoformat(),
            country=address.country,
            state="" if verdict.is_abroad else address.region,
        )
        for entry, amount in amounts.items()
    ]
    estimated = next(row for row in rows if row.entry is Entry.POSTAGE_ESTIMATED)
    return rows if paid is None else [*rows, replace(estimated, amount=money.postage, why=REPLACED)]


def enter_hand_over(tx: Transaction, verdicts: Iterable[tuple[int, Verdict]], mailed_on: date) -> None:
    """Add ledger rows for pieces being handed over; rows already there stay."""
    going = dict(verdicts)
    known = {row.piece_id for row in not_reversed(ledger.of_pieces(tx.conn, going))}
    paid = {piece.id: piece.paid for piece in pieces.some_pieces(tx.conn, going)}
    bought_for = stamp_costs(tx.conn, going)
    for piece_id, verdict in going.items():
        if piece_id not in known:
            cost = bought_for.get(piece_id) if paid[piece_id] is None else None
            ledger.add(tx, entries_of(verdict, piece_id, mailed_on, paid[piece_id], cost))


def not_reversed(rows: Iterable[LedgerRow]) -> list[LedgerRow]:
    """Return the rows of pieces whose rows don't all cancel out, as they do once a hand-over was undone."""
    read = list(rows)
    sums: Counter[tuple[int, Entry, str]] = Counter()
    for row in read:
        sums[row.piece_id, row.entry, row.amount.currency] += row.amount.minor
    entered = {piece_id for (piece_id, _, _), total in sums.items() if total}
    return [row for row in read if row.piece_id in entered]
