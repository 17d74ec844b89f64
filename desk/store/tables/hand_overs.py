"""Postage on, handed over, and what is reported afterward: tracking numbers and amounts paid."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import date, datetime, timedelta

from sqlalchemy import ColumnElement, Connection, FromClause, func, or_, select

from desk.domain.clock import start_of
from desk.domain.money import Money
from desk.domain.status import PieceStatus
from desk.store import schema
from desk.store.ranges import chunks
from desk.store.times import from_utc_text, to_utc_text
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


def left_at(conn: Connection, only: Iterable[int] | None = None) -> dict[int, str]:
    """Return the UTC text of the moment each piece left that was handed over, by its id; all of them, or `only` these."""
    row = schema.pieces.c
    left = select(row.id, row.handed_over_at).where(row.handed_over_at.is_not(None)).order_by(row.id)
    asked = [left] if only is None else [left.where(row.id.in_(some)) for some in chunks(sorted(only))]
    return {int(number): str(at) for one in asked for number, at in conn.execute(one)}


def left_last(conn: Connection, before: date) -> datetime | None:
    """Return the latest moment a piece was handed over before that day; None when none was."""
    at = schema.pieces.c.handed_over_at
    return from_utc_text(conn.execute(select(func.max(at)).where(at < _start(before))).scalar_one())


def still_here(conn: Connection, day: date) -> list[int]:
    """Return ids of pieces to work on that day: not handed over, handed over since it began, or marked by hand.

    A piece that was handed over for that mailing date or a later one is among them, whenever it left.
    """
    row = schema.pieces.c
    wanted = (*_ways_to_be_here(schema.pieces, day), row.beside.is_not(None))
    own = [select(row.id).where(one, row.together_with.is_(None)) for one in wanted]
    return sorted({int(number) for one in own for number in conn.execute(one).scalars()})


def orders_here(conn: Connection, day: date) -> set[int]:
    """Return ids of orders with a piece here, and none that left for an earlier day, also not inside another."""
    row, other = schema.pieces.c, schema.pieces.alias("other")
    same = or_(other.c.order_id == row.order_id, other.c.id == row.together_with)
    gone = select(other.c.id).where(same, ~or_(*_ways_to_be_here(other, day)))
    here = or_(*_ways_to_be_here(schema.pieces, day))
    return set(conn.execute(select(row.order_id).where(here, ~gone.exists())).scalars())


def has_left(conn: Connection) -> bool:
    """Return True when a piece was handed over."""
    left = schema.pieces.c.handed_over_at
    return conn.execute(select(left).where(left.is_not(None)).limit(1)).first() is not None


def count(conn: Connection) -> int:
    """Return how many pieces there are, not counting those packed into another."""
    own = select(func.count()).select_from(schema.pieces).where(schema.pieces.c.together_with.is_(None))
    return int(conn.execute(own).scalar_one())


def sent_and_lost(conn: Connection, by: date) -> tuple[int, int]:
    """Return how many pieces had left by the end of that day or were lost since, and how many were lost."""
    row = schema.pieces.c
    is_lost = row.beside == PieceStatus.LOST.value
    counted = select(func.count(), func.count().filter(is_lost)).select_from(schema.pieces)
    left = row.handed_over_at < _start(by + timedelta(days=1))
    sent, lost = conn.execute(counted.where(row.handed_over_at.is_not(None), or_(left, is_lost))).one()
    return int(sent), int(lost)


def _ways_to_be_here(row: FromClause, day: date) -> tuple[ColumnElement[bool], ColumnElement[bool]]:
    """Return conditions for pieces that are here: did not leave before that day; or left for that mailing date or later."""
    left, entered = row.c.handed_over_at, schema.ledger.c
    mailed = select(entered.piece_id).where(entered.mailed_on >= day.isoformat())
    return or_(left.is_(None), left >= _start(day)), row.c.id.in_(mailed)


def _start(day: date) -> str:
    return to_utc_text(start_of(day))


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


def match(tx: Transaction, piece_id: int, tracking: str, paid: Money | None = None, bought_as: str = "") -> bool:
    """Save the tracking number and the amount paid for a piece. Return False when all of it was known.

    `bought_as` is the service as the list names it; an empty one leaves what is known.
    """
    amount = (None, None) if paid is None else (paid.minor, paid.currency)
    columns = {"tracking": tracking, "paid_minor": amount[0], "paid_currency": amount[1]}
    if bought_as:
        columns["bought_as"] = bought_as
    return bool(tx.update(schema.pieces, {piece_id: columns}))


def _mark(tx: Transaction, column: str, piece_ids: Iterable[int]) -> list[int]:
    rows = tx.rows(schema.pieces, piece_ids)
    return tx.update(schema.pieces, {number: {column: tx.now} for number, row in rows.items() if row[column] is None})
