"""Back up and restore a store. For SQLite files; a database server has its own tools.

A copy is one file with everything: the database, and the shop's own price lists from the folder next to it.
"""

from __future__ import annotations

import sqlite3
from collections.abc import Iterator
from contextlib import closing, contextmanager, suppress
from pathlib import Path

from desk.domain.faults import Refused
from desk.domain.whole_file import make_private_folder, sync_folders
from desk.store import attached
from desk.store.engine import BUSY, BUSY_SECONDS, make_private_file, sentences_for_faults
from desk.store.health import damage_of, is_foreign, read_only_engine
from desk.store.upgrade import head_of, refuse_newer

_NOT_A_FILE = "This data is on a database server. Back it up with the server's own tool, pg_dump."
_IN_USE = "The data is open in a window or a run. Close it, then restore."
_BESIDE = ("", "-wal", "-shm")


def copy(source: Path | None, target: Path) -> Path:
    """Write a complete, consistent copy of a store's file with its price lists, and check it.

    The store may be open and written meanwhile. The copy is complete or does not exist.

    Raises:
        Refused: the store is on a server (None) or busy, the target exists, or the copy is damaged.
    """
    if source is None:
        raise Refused(_NOT_A_FILE)
    if target.exists():
        raise Refused(f"{target.name} already exists. Choose another name for the copy.")
    half = target.with_name(target.name + ".part")
    with suppress(OSError):
        half.unlink(missing_ok=True)
    try:
        _copy_pages(source, half)
        attached.put_in(half, source.parent)
        if wrong := damage_of(half):
            raise Refused(f"The copy was not kept: {wrong}. Restore an earlier copy.")
        half.replace(target)
    finally:
        for end in _BESIDE:
            half.with_name(half.name + end).unlink(missing_ok=True)
    sync_folders([target.parent])
    return target


def restore(source: Path, where: Path) -> Path | None:
    """Replace a store with a copy. Return the new name of the old store, which stays next to it, or None.

    Works even if the store's own file is damaged.

    Raises:
        Refused: the copy is from a newer program, damaged or not a store; or a window or a run has the store open.
    """
    refuse_unfit(source)
    make_private_folder(where.parent)
    fresh = where.with_name(where.name + ".part")
    fresh.unlink(missing_ok=True)
    _copy_pages(source, fresh)
    aside = set_aside(where, "before-restore")
    fresh.replace(where)
    sync_folders([where.parent])
    attached.take_out(where, where.parent)
    return aside


def set_aside(where: Path, why: str) -> Path | None:
    """Rename a store's file and SQLite's files next to it. Return the new name, or None when there is no store.

    Raises:
        Refused: a window or a run has it open.
    """
    if not where.exists():
        return None
    _refuse_in_use(where)
    aside = _free_name(where, why)
    for end in _BESIDE[::-1]:
        beside = where.with_name(where.name + end)
        if beside.exists():
            beside.rename(aside.with_name(aside.name + end))
    return aside


def refuse_unfit(source: Path) -> None:
    """Refuse a copy that cannot be restored: missing, empty, damaged, not a store, or from a newer program."""
    if not source.is_file():
        raise Refused(f"{source} is not there. Check the name of the copy.")
    if not source.stat().st_size:
        raise Refused(f"{source.name} is empty. There is nothing to restore.")
    if wrong := damage_of(source):
        if is_foreign(source):
            raise Refused(f"{source.name} is not a copy made by this program. Choose another file.")
        raise Refused(f"{source.name} is damaged ({wrong}) and was not restored. Choose an older copy.")
    engine = read_only_engine(source)
    try:
        with sentences_for_faults(), engine.connect() as conn:
            head = head_of(conn)
    finally:
        engine.dispose()
    if head is None:
        raise Refused(f"{source.name} is empty. There is nothing to restore.")
    refuse_newer(head)


def _refuse_in_use(where: Path) -> None:
    """Refuse a file in use: only the last open connection can turn off write-ahead logging."""
    try:
        with closing(sqlite3.connect(where, timeout=BUSY_SECONDS)) as conn:
            conn.execute("PRAGMA journal_mode = DELETE")
    except sqlite3.OperationalError as fault:
        if "locked" in str(fault):
            raise Refused(_IN_USE) from fault
    except sqlite3.Error:
        return  # damaged, so no one can be using it


def _free_name(where: Path, why: str) -> Path:
    names = (where.with_name(f"{where.name}.{why}-{number}") for number in range(1, 10_000))
    return next(name for name in names if not name.exists())


def _copy_pages(source: Path, target: Path) -> None:
    make_private_file(target)
    with sentences_for_faults(), _opened(source) as there, _opened(target) as here:
        there.backup(here, progress=_refuse_to_wait)


def _refuse_to_wait(status: int, _remaining: int, _pages: int) -> None:
    """Refuse when busy: SQLite's backup would retry forever, and the connection has waited long enough by then."""
    if status in (sqlite3.SQLITE_BUSY, sqlite3.SQLITE_LOCKED):
        raise Refused(BUSY)


@contextmanager
def _opened(file: Path) -> Iterator[sqlite3.Connection]:
    with closing(sqlite3.connect(file, timeout=BUSY_SECONDS)) as conn:
        yield conn
