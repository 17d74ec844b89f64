"""Follow what other benches do: what they changed, and which piece is on whose scale.

SQLite reports through `PRAGMA data_version` that another connection has written (sqlite.org); PostgreSQL sends a
notification with each commit (postgresql.org, LISTEN). Either way the journal says what was touched. Runs in its own
thread.
"""

from __future__ import annotations

import sqlite3
import time
from collections.abc import Mapping
from contextlib import suppress
from dataclasses import dataclass, field
from datetime import timedelta
from typing import Any  # psycopg's own connection

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
ALIVE_S = 60  # a bench not heard from for this long has gone
GREET_EVERY_S = 20


@dataclass(frozen=True, slots=True)
class BenchNews:
    """What other benches did since, and the pieces open there, by bench."""

    changes: Changes = field(default_factory=Changes)
    open_pieces: Mapping[str, int] = field(default_factory=dict, hash=False)


class Follower:
    """Watches one store for other benches' writes. `open_piece` may be set from any thread."""

    def __init__(self, store: Store, clock: Clock) -> None:
        self.open_piece: int | None = None
        self._store, self._clock = store, clock
        self._seen = store.revision
        self._reported: tuple[int | None, bool] | None = None
        self._greeted = 0.0
        self._others: Mapping[str, int] = {}
        self._are_others = False
        self._line: _Notified | _FileVersionWatch = _Notified(store) if store.file is None else _FileVersionWatch(store)

    def news(self) -> BenchNews | None:
        """Wait briefly and return what other benches did, or None. Raises Refused while the server is away."""
        try:
            return self._news()
        except (DBAPIError, sqlite3.Error) as fault:
            raise Refused("The data cannot be read now. What you weigh stays on the bench until it is back.") from fault

    def _news(self) -> BenchNews | None:
        self._greet()
        if not self._line.wait():
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
        return BenchNews(changes, opened)

    def leave(self) -> None:
        """Remove this bench from the list, and stop following."""
        self._line.close()
        with suppress(Refused, DBAPIError), self._store.writing() as conn:
            conn.execute(delete(schema.benches).where(schema.benches.c.name == self._store.bench))

    def _greet(self) -> None:
        """Report this bench as present, with its open piece if other benches are there to see it."""
        report = (self.open_piece if self._are_others else None, self._are_others)
        now = time.monotonic()
        if report == self._reported and now - self._greeted < GREET_EVERY_S:
            return
        with suppress(Refused), self._store.writing() as conn:
            journal.put_bench(conn, self._store.bench, report[0], to_utc_text(self._clock.now()))
        self._reported, self._greeted = report, now


class _FileVersionWatch:
    """Waits for a change of SQLite's data version, on its own connection in the follower's thread."""

    def __init__(self, store: Store) -> None:
        self._file = store.file or ""
        self._conn: sqlite3.Connection | None = None
        self._seen = -1

    def wait(self) -> bool:
        """Return whether another bench has written since the last call; wait briefly if not."""
        now = self._version()
        if now == self._seen:
            time.sleep(LOOK_EVERY_S)
            now = self._version()
        changed, self._seen = now != self._seen, now
        return changed

    def close(self) -> None:
        """Close the connection."""
        if self._conn is not None:
            self._conn.close()

    def _version(self) -> int:
        if self._conn is None:
            self._conn = sqlite3.connect(self._file, isolation_level=None, check_same_thread=False)
        return int(self._conn.execute("PRAGMA data_version").fetchone()[0])


class _Notified:
    """Waits for the server's notifications, on its own connection, which is reopened when it breaks."""

    def __init__(self, store: Store) -> None:
        self._engine = store.engine
        self._conn: Any = None  # psycopg's own connection: SQLAlchemy does not support notifications

    def wait(self) -> bool:
        """Return whether a notification came; also True after connecting, since some may have been missed."""
        try:
            if self._conn is None:
                self._listen()
                return True
            return bool(list(self._conn.notifies(timeout=LOOK_EVERY_S, stop_after=1)))
        except Exception as fault:
            self.close()
            time.sleep(LOOK_EVERY_S)
            raise Refused(
                "The database server does not answer. What you weigh stays on the bench until it is back."
            ) from fault

    def close(self) -> None:
        """Close the connection."""
        conn, self._conn = self._conn, None
        if conn is not None:
            with suppress(Exception):
                conn.close()

    def _listen(self) -> None:
        pooled = self._engine.raw_connection()
        self._conn = pooled.driver_connection
        pooled.detach()
        self._conn.autocommit = True
        self._conn.execute(f"LISTEN {CHANNEL}")
