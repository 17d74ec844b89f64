"""Following what other benches do: what they changed, and which piece lies on whose scale.

SQLite tells by `PRAGMA data_version` that another connection has written (sqlite.org); PostgreSQL sends a notification
with each commit (postgresql.org, LISTEN). Either way the journal says what was touched. Used from one thread of its own.
"""

from __future__ import annotations

import sqlite3
import time
from collections.abc import Callable, Mapping
from contextlib import suppress
from dataclasses import dataclass, field
from datetime import timedelta
from typing import Any

from sqlalchemy import delete, select
from sqlalchemy.exc import DBAPIError

from desk.domain.changes import Changes
from desk.domain.clock import Clock
from desk.domain.faults import Refused
from desk.store import journal, schema
from desk.store.engine import CHANNEL
from desk.store.store import Store
from desk.store.times import to_utc_text

LOOK_EVERY_S = 0.3
ALIVE_S = 60  # a bench that was not heard of for so long has gone
GREET_EVERY_S = 20


@dataclass(frozen=True, slots=True)
class Elsewhere:
    """What other benches did since, and the pieces open at them, by bench."""

    changes: Changes = field(default_factory=Changes)
    open_pieces: Mapping[str, int] = field(default_factory=dict, hash=False)


class Follower:
    """Watches one store for what other benches write. `open_piece` may be set from any thread."""

    def __init__(self, store: Store, clock: Clock) -> None:
        self.open_piece: int | None = None
        self._store, self._clock = store, clock
        self._seen = store.revision
        self._said: tuple[int | None, bool] | None = None
        self._greeted = 0.0
        self._others: Mapping[str, int] = {}
        self._are_others = False
        self._wait = _notified(store) if store.file is None else _looked(store)

    def news(self) -> Elsewhere | None:
        """Wait a moment and return what other benches did; None when nothing did. Refused while the server is away."""
        self._greet()
        if not self._wait():
            return None
        with self._store.reading() as conn:
            now = journal.revision(conn)
            changes = journal.changes_since(conn, self._seen, but=self._store.bench)
            alive = to_utc_text(self._clock.now() - timedelta(seconds=ALIVE_S))
            row = schema.benches.c
            there = conn.execute(select(row.name, row.piece_id).where(row.seen_at >= alive)).all()
        others = {one.name: one.piece_id for one in there if one.name != self._store.bench}
        self._seen, self._are_others = now, bool(others)
        opened = {name: piece for name, piece in others.items() if piece is not None}
        if changes == Changes() and opened == self._others:
            return None
        self._others = opened
        return Elsewhere(changes, opened)

    def leave(self) -> None:
        """Take this bench off the list."""
        with suppress(Refused, DBAPIError), self._store.writing() as conn:
            conn.execute(delete(schema.benches).where(schema.benches.c.name == self._store.bench))

    def _greet(self) -> None:
        """Say that this bench is here, and which piece is open at it when somebody else may want to know."""
        said = (self.open_piece if self._are_others else None, self._are_others)
        now = time.monotonic()
        if said == self._said and now - self._greeted < GREET_EVERY_S:
            return
        with suppress(Refused), self._store.writing() as conn:
            journal.put_bench(conn, self._store.bench, said[0], to_utc_text(self._clock.now()))
        self._said, self._greeted = said, now


def _looked(store: Store) -> Callable[[], bool]:
    """Wait for a change of SQLite's data version on a connection of its own."""
    conn: list[sqlite3.Connection] = []
    version = [-1]

    def look() -> bool:
        if not conn:
            conn.append(sqlite3.connect(store.file or "", isolation_level=None))
        now = int(conn[0].execute("PRAGMA data_version").fetchone()[0])
        if now == version[0]:
            time.sleep(LOOK_EVERY_S)
            now = int(conn[0].execute("PRAGMA data_version").fetchone()[0])
        changed, version[0] = now != version[0], now
        return changed

    return look


def _notified(store: Store) -> Callable[[], bool]:
    """Wait for a notification of the server; a connection that broke is made anew."""
    held: list[Any] = []

    def wait() -> bool:
        try:
            if not held:
                raw = store.engine.raw_connection()
                raw.detach()
                raw.driver_connection.autocommit = True  # type: ignore[union-attr]
                raw.driver_connection.execute(f"LISTEN {CHANNEL}")  # type: ignore[union-attr]
                held.append(raw.driver_connection)
                return True  # whatever was missed before
            return bool(list(held[0].notifies(timeout=LOOK_EVERY_S, stop_after=1)))
        except Exception as fault:
            held.clear()
            time.sleep(LOOK_EVERY_S)
            raise Refused(
                "The database server does not answer. What you weigh stays on the bench until it is back."
            ) from fault

    return wait
