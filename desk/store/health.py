"""Check that a store is sound before using it: a damaged file must be neither used nor changed.

SQLite's own checks come first (`quick_check` for pages, `integrity_check` for indexes as well, `foreign_key_check`).
Then come ours: every record can be read, belongs to the right piece and matches its digest.
"""

from __future__ import annotations

import sqlite3
from collections.abc import Callable, Iterator
from contextlib import suppress
from pathlib import Path
from urllib.parse import quote

from sqlalchemy import Boolean, Column, Connection, Engine, Integer, create_engine, func, or_, select, text
from sqlalchemy.exc import DBAPIError

from desk.domain.faults import Refused
from desk.domain.whole_file import write_whole
from desk.store import schema
from desk.store.tables import movements, orders, papers, pieces, shop, weighings
from desk.store.tables.movements import CountedKind

EMPTY = "it is empty"
_MAGIC = b"SQLite format 3\0"  # SQLite, Database File Format, 1.3.1
READ_FAULTS = (ValueError, TypeError, KeyError, AttributeError, ArithmeticError)
_JSON = (("journal", "touched"), ("journal", "facts"), ("journal", "images"), ("settings", "content"))


class Damaged(Refused):
    """A store's file cannot be trusted. `file` is the file, `newest` its newest good copy or None."""

    def __init__(self, file: Path, what: str, newest: Path | None = None) -> None:
        way = (
            f"Restore the newest good copy: {newest}."
            if newest
            else "There is no good copy next to it. Look for a backup."
        )
        super().__init__(f"{file} is damaged ({what}). It was not changed. {way}")
        self.file = file
        self.what = what
        self.newest = newest


def refuse_damaged(file: Path, newest_good: Callable[[Path], Path | None]) -> None:
    """Raise `Damaged` for a damaged file; quick when the file is unchanged since it was last closed properly.

    An empty file, or one that is no database, counts as damaged only if copies of it exist next to it.
    """
    if not file.is_file() or _is_marked(file):
        return
    wrong = damage_of(file) if file.stat().st_size else EMPTY
    if wrong:
        newest = newest_good(file)
        if newest is not None or not is_foreign(file):
            raise Damaged(file, wrong, newest)


def is_foreign(file: Path) -> bool:
    """Return True for a file that does not begin as an SQLite database does. OSError when it cannot be read."""
    with file.open("rb") as begin:
        return begin.read(len(_MAGIC)) != _MAGIC


def mark_sound(file: Path) -> None:
    """Record the file's size and time after the last connection closed, so the next start need not read it all."""
    mark = _mark_of(file)
    with suppress(OSError):
        if not _has_log(file):
            write_whole(mark, _look_of(file).encode())


def _is_marked(file: Path) -> bool:
    with suppress(OSError):
        return not _has_log(file) and _mark_of(file).read_text(encoding="utf-8") == _look_of(file)
    return False


def _look_of(file: Path) -> str:
    there = file.stat()
    return f"{schema.SCHEMA_HEAD} {there.st_size} {there.st_mtime_ns}"


def _mark_of(file: Path) -> Path:
    return file.with_name(f"{file.name}-checked")


def _has_log(file: Path) -> bool:
    return file.with_name(f"{file.name}-wal").exists()


def damage_of(file: Path) -> str:
    """Return the first problem of a store's file in a few words; empty when it is sound.

    The file is opened read-only. An empty file, and another program's file, are not damage.
    """
    engine = read_only_engine(file)
    try:
        with engine.connect() as conn:
            return _damage_of_file(conn)
    except (DBAPIError, sqlite3.Error) as fault:
        return _words(fault)
    finally:
        engine.dispose()


def read_only_engine(file: Path) -> Engine:
    """Return an engine that never writes to a file or next to it."""
    still = (
        "" if _has_log(file) else "&immutable=1"
    )  # without a log no one else has it open, and SQLite need not create one
    address = f"file:{quote(str(file.absolute()))}?mode=ro{still}"
    return create_engine("sqlite://", creator=lambda: sqlite3.connect(address, uri=True), hide_parameters=True)


def damage_in(conn: Connection) -> str:
    """Return the first wrong record of a store in today's schema, in a few words; empty when all are sound."""
    for check in (_types, _links, _next_ids, _records):
        if wrong := next(check(conn), ""):
            return wrong
    return ""


def _damage_of_file(conn: Connection) -> str:
    first = str(conn.exec_driver_sql("PRAGMA integrity_check(1)").scalar())
    if first != "ok":
        return first.splitlines()[0]
    tables = set(conn.exec_driver_sql("SELECT name FROM sqlite_schema WHERE type = 'table'").scalars())
    if not {schema.head.name, schema.meta.name} <= tables:
        return ""
    head = conn.exec_driver_sql("SELECT version_num FROM schema_head").scalar()
    if head is None:
        return "it does not say which schema it has"
    if head != schema.SCHEMA_HEAD:
        return ""
    if missing := {table.name for table in schema.metadata.sorted_tables} - tables:
        return f"table {min(missing)} is missing"
    if conn.exec_driver_sql("PRAGMA foreign_key_check").first() is not None:
        return "a row points at a row that is not there"
    return damage_in(conn)


def _types(conn: Connection) -> Iterator[str]:
    """Yield tables with a cell of the wrong type; SQLite accepts any type, a server enforces them."""
    if conn.dialect.name != "sqlite":
        return
    for table in schema.metadata.sorted_tables:
        wrong = [func.typeof(column).not_in(_allowed(column)) for column in table.c]
        if conn.execute(select(text("1")).select_from(table).where(or_(*wrong)).limit(1)).first() is not None:
            yield f"a cell of table {table.name} has another type"
    for table_name, name in _JSON:
        column = schema.metadata.tables[table_name].c[name]
        if conn.execute(select(text("1")).where(~func.json_valid(column)).limit(1)).first() is not None:
            yield f"{name} of table {table_name} cannot be read"


def _allowed(column: Column[object]) -> list[str]:
    kind = "integer" if isinstance(column.type, Integer | Boolean) else "text"
    return [kind, "null"] if column.nullable else [kind]


def _links(conn: Connection) -> Iterator[str]:
    """Yield pieces whose weighing belongs to another piece."""
    row, weighed = schema.pieces.c, schema.weighings.c
    joined = schema.pieces.outerjoin(schema.weighings, row.weighing_id == weighed.id)
    strange = row.weighing_id.is_not(None) & (weighed.id.is_(None) | (weighed.piece_id != row.id))
    broken = conn.execute(select(row.id).select_from(joined).where(strange).limit(1)).scalar()
    if broken is not None:
        yield f"the weighing of piece {broken} is not there"


def _next_ids(conn: Connection) -> Iterator[str]:
    """Yield tables with an id above the next one recorded: ids are never used twice."""
    following = {row.name: row.next for row in conn.execute(select(schema.ids))}
    for table in (*schema.JOURNALED.values(), schema.journal):
        newest = conn.execute(select(func.max(table.c.id))).scalar()
        if newest is not None and newest >= following.get(table.name, 1):
            yield f"the ids of table {table.name} have run ahead"


def _records(conn: Connection) -> Iterator[str]:
    """Yield the records the program cannot read."""
    reads: tuple[tuple[str, Callable[[Connection], object]], ...] = (
        ("an order", orders.check_all),
        ("the shop", shop.load),
        ("a weighing", weighings.check_all),
        ("a piece", pieces.all_pieces),
        ("a printed paper", papers.all_papers),
        (
            "a movement of stamps",
            lambda conn: [movements.stamp_named(n) for n in movements.on_hand(conn, CountedKind.STAMP)],
        ),
    )
    for what, read in reads:
        try:
            read(conn)
        except READ_FAULTS:
            yield f"{what} cannot be read"


def _words(fault: Exception) -> str:
    return str(getattr(fault, "orig", None) or fault)
