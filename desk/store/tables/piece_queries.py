"""The queries that read pieces, built once: building takes SQLAlchemy longer than SQLite takes to run them."""

from __future__ import annotations

from functools import cache
from typing import Any  # statements of SQLAlchemy

from sqlalchemy import Select, bindparam, func, select

from desk.store import schema


@cache  # saves 0.1 ms of a weighing
def how_many() -> Select[Any]:
    """Return the query for how many pieces an order ships in."""
    return select(func.count()).select_from(schema.pieces).where(schema.pieces.c.order_id == bindparam("order"))


@cache  # saves 0.3 ms of a weighing
def newest_orders() -> Select[Any]:
    """Return the query for the order imported last under each of some numbers."""
    column = schema.orders.c
    numbers: Any = bindparam("numbers", expanding=True)
    newest = select(column.number, func.max(column.id).label("newest")).where(column.number.in_(numbers))
    return newest.group_by(column.number)


@cache  # saves 0.2 ms of a weighing
def ids_in_orders(*, as_weighed: bool) -> Select[Any]:
    """Return the query for order id, number and id of pieces; `as_weighed`, the id of the piece it is packed into."""
    row = schema.pieces.c
    orders: Any = bindparam("orders", expanding=True)
    meant = func.coalesce(row.together_with, row.id) if as_weighed else row.id
    return select(row.order_id, row.number, meant).where(row.order_id.in_(orders))


@cache  # saves 3 to 9% of a weighing
def answers_and_pieces(*, some: bool) -> tuple[Select[Any], Select[Any]]:
    """Return the queries for answers and whole pieces, of all or of some."""
    codes, whole = select(schema.answers.c.piece_id, schema.answers.c.code), _whole_pieces()
    if not some:
        return codes, whole
    ids: Any = bindparam("ids", expanding=True)
    return codes.where(schema.answers.c.piece_id.in_(ids)), whole.where(schema.pieces.c.id.in_(ids))


def _whole_pieces() -> Select[Any]:
    """Return the query for pieces with their order number and current weighing."""
    counting = [column for column in schema.weighings.c if column.name not in ("id", "piece_id")]
    joined = schema.pieces.join(schema.orders, schema.orders.c.id == schema.pieces.c.order_id).outerjoin(
        schema.weighings, schema.weighings.c.id == schema.pieces.c.weighing_id
    )
    whole = select(schema.pieces, schema.orders.c.number.label("order_number")).add_columns(*counting)
    return whole.select_from(joined).order_by(schema.pieces.c.order_id, schema.pieces.c.number)
