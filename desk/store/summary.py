"""A store's contents in a few numbers, read without changing its file: for choosing a copy to restore."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime
from pathlib import Path

from sqlalchemy import Connection, func, select

from desk.store import schema
from desk.store.engine import sentences_for_faults
from desk.store.health import read_only_engine
from desk.store.times import from_utc_text


@dataclass(frozen=True, slots=True)
class StoreSummary:
    """Counts of a store, its newest step with its time (UTC), and the id that identifies the store."""

    store: str
    orders: int
    weighed: int
    stamped: int
    handed_over: int
    revision: int
    newest_step: str
    newest_at: datetime | None


def summary_of(file: Path) -> StoreSummary:
    """Return the numbers of a store's file. Raises Refused when it cannot be read."""
    engine = read_only_engine(file)
    try:
        with sentences_for_faults(), engine.connect() as conn:
            return summary_in(conn)
    finally:
        engine.dispose()


def summary_in(conn: Connection) -> StoreSummary:
    """Return the numbers of the connection's store, of any schema version."""
    row, step = schema.pieces.c, schema.journal.c
    counts = conn.execute(
        select(func.count(row.weighing_id), func.count(row.postage_on_at), func.count(row.handed_over_at))
    ).one()
    newest = conn.execute(select(step.id, step.step, step.at).order_by(step.id.desc()).limit(1)).first()
    return StoreSummary(
        store=str(conn.execute(select(schema.meta.c.value).where(schema.meta.c.name == "store")).scalar() or ""),
        orders=conn.execute(select(func.count()).select_from(schema.orders)).scalar_one(),
        weighed=counts[0],
        stamped=counts[1],
        handed_over=counts[2],
        revision=newest.id if newest else 0,
        newest_step=newest.step if newest else "",
        newest_at=from_utc_text(newest.at) if newest else None,
    )
