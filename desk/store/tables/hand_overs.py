"""Postage on, handed over, and what is reported afterward: tracking numbers and amounts paid."""

from __future__ import annotations

from collections.abc import Iterable

from sqlalchemy import Connection, func, select

from desk.domain.money import Money
from desk.store import schema
from desk.store.transaction import Transaction


def put_postage_on(tx: Transaction, piece_ids: Iterable[int]) -> list[int]:
    """Record that postage is on pieces (stamps confirmed, metered, or a paid label matched). Return the changed ids."""
    return _mark(tx, "postage_on_at", piece_ids)


def take_postage_off(tx: Transaction, piece_ids: Iterable[int]) -> list[int]:
    """Record that postage is off pieces again. Return the changed ids."""
    return tx.update(schema.pieces, {number: {"postage_on_at": None} for number in piece_ids})


def hand_over(tx: Transaction, piece_ids: Iterable[int]) -> list[int]:
    """Record that pieces went to the post; those already gone keep their time. Return the changed ids."""
    return _mark(tx, "handed_over_at", piece_ids)


def left_at(conn: Connection) -> dict[int, str]:
    """Return the UTC text of the moment each piece left that was handed over, by its id."""
    row = schema.pieces.c
    found = conn.execute(select(row.id, row.handed_over_at).where(row.handed_over_at.is_not(None)).order_by(row.id))
    return {int(number): str(at) for number, at in found}


def orders_that_left(conn: Connection, before: str) -> list[int]:
    """Return ids of orders whose pieces had all left by that UTC text, none of them set aside, back or lost.

    A piece packed into another left with it.
    """
    own, carrier = schema.pieces.alias("own"), schema.pieces.alias("carrier")
    left = func.coalesce(own.c.handed_over_at, carrier.c.handed_over_at)
    wanted = (
        select(own.c.order_id)
        .select_from(own.outerjoin(carrier, own.c.together_with == carrier.c.id))
        .group_by(own.c.order_id)
        .having(func.count(left) == func.count(own.c.id), func.count(own.c.beside) == 0, func.max(left) <= before)
        .order_by(own.c.order_id)
    )
    return list(conn.execute(wanted).scalars())


def match(tx: Transaction, piece_id: int, tracking: str, paid: Money | None = None) -> bool:
    """Save the tracking number and the amount paid for a piece. Return False when both were known."""
    amount = (None, None) if paid is None else (paid.minor, paid.currency)
    columns = {"tracking": tracking, "paid_minor": amount[0], "paid_currency": amount[1]}
    return bool(tx.update(schema.pieces, {piece_id: columns}))


def _mark(tx: Transaction, column: str, piece_ids: Iterable[int]) -> list[int]:
    rows = tx.rows(schema.pieces, piece_ids)
    return tx.update(schema.pieces, {number: {column: tx.now} for number, row in rows.items() if row[column] is None})
