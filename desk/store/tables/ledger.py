"""The ledger as rows, which are only ever added. Undo adds the opposite row, as with movements."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import date
from typing import Any  # rows of SQLAlchemy

from sqlalchemy import Connection, Row, select

from desk.domain.ledger import Entry, LedgerRow
from desk.domain.money import Money
from desk.store import schema
from desk.store.ranges import chunks
from desk.store.transaction import Transaction


def add(tx: Transaction, rows: Iterable[LedgerRow]) -> None:
    """Add rows; zero amounts are skipped."""
    tx.insert(schema.ledger, [_to_row(row, tx.now) for row in rows if row.amount])


def rows(conn: Connection, first: date | None = None, last: date | None = None) -> list[LedgerRow]:
    """Return every row mailed from `first` to `last`, both inclusive, in the order written."""
    at = schema.ledger.c.mailed_on
    wanted = select(schema.ledger).order_by(schema.ledger.c.id)
    if first is not None:
        wanted = wanted.where(at >= first.isoformat())
    if last is not None:
        wanted = wanted.where(at <= last.isoformat())
    return [_from_row(row) for row in conn.execute(wanted)]


def of_pieces(conn: Connection, piece_ids: Iterable[int]) -> list[LedgerRow]:
    """Return every row of these pieces, in the order written."""
    rows: list[LedgerRow] = []
    for some in chunks(sorted(piece_ids)):
        wanted = select(schema.ledger).where(schema.ledger.c.piece_id.in_(some)).order_by(schema.ledger.c.id)
        rows += [_from_row(row) for row in conn.execute(wanted)]
    return rows


def _to_row(row: LedgerRow, now: str) -> dict[str, object]:
    return {
        "at": now,
        "mailed_on": row.mailed_on.isoformat(),
        "piece_id": row.piece_id,
        "order_number": row.order,
        "reference": row.reference,
        "entry": row.entry.value,
        "amount_minor": row.amount.minor,
        "currency": row.amount.currency,
        "service": row.service,
        "zone": row.zone,
        "price_list": row.price_list,
        "country": row.country,
        "state": row.state,
        "why": row.why,
    }


def _from_row(row: Row[Any]) -> LedgerRow:
    """Return the ledger row of a database row."""
    _, _, mailed_on, piece_id, order, reference, entry, minor, currency, *facts = tuple(row)
    service, zone, price_list, country, state, why = facts
    return LedgerRow(
        entry=Entry(entry),
        amount=Money(minor, currency),
        mailed_on=_day(mailed_on),
        piece_id=piece_id,
        order=order,
        reference=reference,
        service=service,
        zone=zone,
        price_list=price_list,
        country=country,
        state=state,
        why=why,
    )


def _day(text: str) -> date:
    return date.fromisoformat(text)
