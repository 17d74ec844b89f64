"""One engine for both databases, with their errors as plain sentences.

SQLite uses a write-ahead log and flushes to disk at each commit: a weighing costs a person seconds, the flush a few
milliseconds. Only one bench writes at a time: `BEGIN IMMEDIATE` in SQLite, an advisory lock in PostgreSQL.
"""

from __future__ import annotations

import os
import sqlite3
import time
from collections.abc import Callable, Iterator
from contextlib import closing, contextmanager, suppress
from pathlib import Path
from typing import Any, cast  # the driver's own connection

from sqlalchemy import URL, Connection, Engine, create_engine, event, make_url, text
from sqlalchemy.exc import ArgumentError, DBAPIError

from desk.domain.faults import Refused
from desk.domain.whole_file import create_private

BUSY_SECONDS = 4.5  # how long to wait for another bench; the sentence is there within 5 seconds
SERVER_SECONDS = 4  # how long to wait for a database server
CHANNEL = "tare_and_tag"
_WAIT_S = 0.05  # between attempts to get the write lock
_LOCK = 0x7A6E  # our own advisory lock; the second key separates two schemas of one database
BUSY = "The data is busy: another bench has been writing for almost 5 seconds. Wait a moment, then try again."
_RIGHTS = "The data file cannot be opened or written here. Check that the folder exists and that you may write in it."
_OURS = "This file was not made by this program. Choose another file."
_SERVER = "The database server does not answer or does not let you in. Check its address and the password."
NO_ANSWER = "The database server does not answer, so your last step may not be saved. Try again when it is back."
_SENTENCES = {
    "the server does not answer": NO_ANSWER,
    "the database is not in UTF-8": "This database can't keep every letter. Make one in UTF-8 (createdb -E UTF8).",
    "database is locked": BUSY,
    "55P03": BUSY,  # lock_not_available
    "unable to open database file": _RIGHTS,
    "readonly database": _RIGHTS,
    "42501": _RIGHTS,  # insufficient_privilege
    "file is not a database": _OURS,
    "disk image is malformed": "The data file is damaged. Restore a copy.",
    "disk I/O error": "The disk cannot be read or written. Check the disk; nothing of this step was saved.",
    "disk is full": "The disk is full. Make room, then try again. Nothing of this step was saved.",
    "53100": "The database server's disk is full. Make room, then try again. Nothing of this step was saved.",
}


class Busy(Refused):
    """Another bench is writing."""


def make_engine(where: str | Path) -> Engine:
    """Return an engine for a file (readable only by its owner) or a PostgreSQL URL. Raises Refused on failure."""
    url = _url(where)
    if url.get_backend_name() != "sqlite":
        return _server_engine(url)
    make_private_file(Path(url.database or ""))
    engine = create_engine(url, connect_args={"timeout": BUSY_SECONDS}, hide_parameters=True)
    event.listen(engine, "connect", _prepare_sqlite)
    event.listen(engine, "begin", _begin_sqlite)
    return engine


def _server_engine(url: URL) -> Engine:
    from desk.store import server  # PostgreSQL's library is not needed for a file

    engine = create_engine(
        url.set(drivername="postgresql+psycopg"),
        connect_args={"connect_timeout": SERVER_SECONDS, "tcp_user_timeout": 1000 * SERVER_SECONDS},
        pool_pre_ping=True,
        hide_parameters=True,
    )

    def connect(_dialect: object, _record: object, words: Any, options: Any) -> Any:
        return server.connect(*words, **options)

    event.listen(engine, "do_connect", connect)
    return engine


def file_of(where: str | Path) -> Path | None:
    """Return a store's file, which may not exist yet; None for a server. Raises Refused when it can be neither."""
    url = _url(where)
    return Path(url.database or "") if url.get_backend_name() == "sqlite" else None


def make_private_file(file: Path) -> None:
    """Create an empty file only its owner may read, and its folder, unless it exists. Raises Refused on failure."""
    try:
        file.parent.mkdir(parents=True, exist_ok=True)
        if not file.exists():
            with suppress(FileExistsError):  # another bench was faster
                os.close(create_private(file))
    except OSError as fault:
        raise Refused(f"{file}: {_RIGHTS}") from fault


def take_write_lock(conn: Connection) -> None:
    """Wait for the write lock, which SQLite takes at BEGIN. Raises Busy after `BUSY_SECONDS`.

    The connection's option `patience` sets another number of seconds.
    """
    if conn.dialect.name != "sqlite":
        asked = text("SELECT pg_try_advisory_xact_lock(:key, hashtext(current_schema()))")
        _until(lambda: bool(conn.execute(asked, {"key": _LOCK}).scalar()), conn)


def _until(have: Callable[[], bool], conn: Connection) -> None:
    until = time.monotonic() + conn.get_execution_options().get("patience", BUSY_SECONDS)
    while not have():
        if time.monotonic() >= until:
            raise Busy(BUSY)
        time.sleep(_WAIT_S)


def rewrite(engine: Engine) -> None:
    """Rewrite the whole database without deleted or overwritten data, and empty SQLite's log.

    Source: sqlite.org, VACUUM and PRAGMA wal_checkpoint(TRUNCATE); postgresql.org, VACUUM FULL.

    Raises:
        Refused: others are using it (through `sentences_for_faults`).
    """
    if engine.dialect.name != "sqlite":
        from desk.store.server import unhurried

        with engine.connect().execution_options(isolation_level="AUTOCOMMIT") as conn, unhurried(conn):
            conn.execute(text(f"SET lock_timeout = {round(1000 * BUSY_SECONDS)}"))
            for table in ("orders", "journal"):
                conn.execute(text(f"VACUUM FULL {table}"))
        return
    with closing(sqlite3.connect(engine.url.database or "", timeout=BUSY_SECONDS)) as raw:
        raw.isolation_level = None
        raw.execute("PRAGMA temp_store = MEMORY")  # keeps the texts out of temporary files
        raw.execute("VACUUM")
        busy, _, _ = raw.execute("PRAGMA wal_checkpoint(TRUNCATE)").fetchone()
        if busy:
            raise Refused(BUSY)


def tell_others(conn: Connection) -> None:
    """Make the server notify other benches when this transaction commits; SQLite's followers poll the file."""
    if conn.dialect.name != "sqlite":
        conn.execute(text(f"NOTIFY {CHANNEL}"))


@contextmanager
def sentences_for_faults() -> Iterator[None]:
    """Turn errors a person can act on into Refused; others pass unchanged."""
    try:
        yield
    except DBAPIError as fault:
        sentence = _sentence(fault.orig)
        if sentence is None:
            raise
        raise Refused(sentence) from fault
    except sqlite3.Error as fault:
        raise Refused(_sentence(fault) or f"The data cannot be used: {fault}.") from fault


def _sentence(fault: BaseException | None) -> str | None:
    state = getattr(fault, "sqlstate", None)
    message = f"{state} {fault}"
    known = next((sentence for key, sentence in _SENTENCES.items() if key in message), None)
    if known is None and state is None and type(fault).__module__.startswith("psycopg"):
        return _SERVER
    return known


def _url(where: str | Path) -> URL:
    if isinstance(where, Path) or "://" not in where:
        return URL.create("sqlite", database=str(where))
    try:
        url = make_url(where)
    except ArgumentError as fault:
        raise Refused("Can't read the address of the data. Expected postgresql://user@host/name.") from fault
    if url.get_backend_name() not in ("sqlite", "postgresql") or (
        url.get_backend_name() == "sqlite" and not url.database
    ):
        raise Refused("The data is a file or a PostgreSQL address: postgresql://user@host/name.")
    return url


def _prepare_sqlite(raw: Any, _record: object) -> None:
    raw.isolation_level = None  # the driver would begin automatically, without IMMEDIATE
    for pragma in ("journal_mode = WAL", "synchronous = FULL", "foreign_keys = ON", "secure_delete = ON"):
        raw.execute(f"PRAGMA {pragma}")


def _begin_sqlite(conn: Connection) -> None:
    if conn.get_execution_options().get("only_reads", False):
        conn.exec_driver_sql("BEGIN")
        return
    raw = cast("sqlite3.Connection", conn.connection.driver_connection)

    def begun() -> bool:
        try:
            raw.execute("BEGIN IMMEDIATE")
        except sqlite3.OperationalError as fault:
            if "locked" in str(fault):
                return False
            raise
        return True

    raw.execute("PRAGMA busy_timeout = 0")  # we do the waiting
    try:
        _until(begun, conn)
    finally:
        raw.execute(f"PRAGMA busy_timeout = {round(BUSY_SECONDS * 1000)}")
