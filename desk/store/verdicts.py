"""Verdicts: the last decision of each piece, kept so that opening the window does not decide everything again.

A verdict rests on the piece, its order, what the shop has settled, and the posting date. When one of them has moved
on it is not given out any more; undo moves them on too, so verdicts stand outside the journal.
"""

from __future__ import annotations

from collections.abc import Mapping
from datetime import date

from sqlalchemy import Connection, delete, insert, select

from desk.store import journal, schema
from desk.store.ranges import chunks
from desk.store.transaction import Transaction


def keep(tx: Transaction, posting_date: date, contents: Mapping[int, str]) -> None:
    """Keep the decisions of pieces by id, as JSON text, last thing in a step; ids that are gone are left out."""
    shop_revision = journal.shop_revision(tx.conn) if not tx.shop_rows else tx.revision
    for some in chunks(contents):
        tx.conn.execute(delete(schema.verdicts).where(schema.verdicts.c.piece_id.in_(some)))
        rests_on = select(schema.pieces.c.id, schema.pieces.c.version, schema.orders.c.version.label("order_version"))
        rows = tx.conn.execute(rests_on.join(schema.orders).where(schema.pieces.c.id.in_(some)))
        fresh = [
            {
                "piece_id": row.id,
                "piece_version": row.version,
                "order_version": row.order_version,
                "shop_revision": shop_revision,
                "posting_date": posting_date.isoformat(),
                "content": contents[row.id],
            }
            for row in rows
        ]
        if fresh:
            tx.conn.execute(insert(schema.verdicts), fresh)


def fresh(conn: Connection, posting_date: date) -> dict[int, str]:
    """The decisions that still hold on that posting date, by piece id."""
    column = schema.verdicts.c
    wanted = (
        select(column.piece_id, column.content)
        .join_from(schema.verdicts, schema.pieces, schema.pieces.c.id == column.piece_id)
        .join(schema.orders)
        .where(
            column.posting_date == posting_date.isoformat(),
            column.piece_version == schema.pieces.c.version,
            column.order_version == schema.orders.c.version,
            column.shop_revision == journal.shop_revision(conn),
        )
    )
    return {row.piece_id: row.content for row in conn.execute(wanted)}
