"""Backup: a copy of the open store, and the way back. For SQLite files; a database server has its own tools."""

from __future__ import annotations

import sqlite3
from collections.abc import Iterator
from contextlib import closing, contextmanager
from pathlib import Path

from desk.domain.faults import Refused
from desk.store.engine import BUSY, BUSY_SECONDS, make_engine, make_private_file, told_plainly
from desk.store.store import Store, head_of, refuse_newer

_NOT_A_FILE = "This store lies in a database server. Back it up with the server's own tool, pg_dump."
_DAMAGED = "This backup is damaged and was not put back. Choose an older one."


def copy(store: Store, target: Path) -> Path:
    """Write a whole, consistent copy of the store while it is open; the file is there complete or not at all."""
    if store.engine.dialect.name != "sqlite":
        raise Refused(_NOT_A_FILE)
    if target.exists():
        raise Refused(f"{target.name} is there already. Choose another name for the backup.")
    half = target.with_name(target.name + ".part")
    half.unlink(missing_ok=True)
    _copy_file(Path(store.engine.url.database or ""), half)
    half.replace(target)
    return target


def restore(source: Path, where: Path) -> Path | None:
    """Put a backup in the place of a store; what was there is kept beside it, and its name returned.

    Refused for a backup of a newer program, a damaged one, one that is no store, or a store that is being written.
    """
    _refuse_unfit(source)
    kept = None
    if where.exists():
        kept = _free_name(where)
        _copy_file(where, kept)
    _copy_file(source, where)
    return kept


def _refuse_unfit(source: Path) -> None:
    if not source.is_file():
        raise Refused(f"{source.name} is not there.")
    engine = make_engine(source)
    try:
        with told_plainly(), engine.connect().execution_options(only_reads=True) as conn:
            found = head_of(conn)
            if found is None:
                raise Refused(f"{source.name} is empty: there is nothing to put back.")
            refuse_newer(found)
            if conn.exec_driver_sql("PRAGMA integrity_check").scalar() != "ok":
                raise Refused(_DAMAGED)
    finally:
        engine.dispose()


def _free_name(where: Path) -> Path:
    names = (where.with_name(f"{where.name}.before-restore-{number}") for number in range(1, 10_000))
    return next(name for name in names if not name.exists())


def _copy_file(source: Path, target: Path) -> None:
    make_private_file(target)
    with told_plainly(), _opened(source) as there, _opened(target) as here:
        there.backup(here, progress=_refuse_to_wait)


def _refuse_to_wait(status: int, _remaining: int, _pages: int) -> None:
    """The copier would try for ever while another bench writes; its connection has waited long enough by then."""
    if status in (sqlite3.SQLITE_BUSY, sqlite3.SQLITE_LOCKED):
        raise Refused(BUSY)


@contextmanager
def _opened(file: Path) -> Iterator[sqlite3.Connection]:
    with closing(sqlite3.connect(file, timeout=BUSY_SECONDS)) as conn:
        yield conn
