"""Move a whole store between a file and a database server: every table, checked by counts and hashes."""

from __future__ import annotations

import json
from collections.abc import Iterator
from hashlib import sha256
from pathlib import Path

from sqlalchemy import Connection, Table, delete, func, insert, select

from desk.domain.clock import Clock
from desk.domain.faults import Refused
from desk.store import schema
from desk.store.engine import file_of
from desk.store.ranges import CHUNK
from desk.store.store import Store, open_store

LEFT_BEHIND = frozenset({schema.benches.name})  # who has it open now is not data


def move(source: str | Path, target: str | Path, clock: Clock) -> dict[str, int]:
    """Copy everything from one store into a new one, in one transaction. Return the number of rows by table.

    Raises:
        Refused: the source is missing, the target is not empty, or the copy differs.
    """
    file = file_of(source)
    if file is not None and not file.exists():
        raise Refused(f"{file} is not there. Check the name of the data to move.")
    there = open_store(source, clock)
    try:
        here = open_store(target, clock)
        try:
            return _move(there, here)
        finally:
            here.close()
    finally:
        there.close()


def fingerprint(conn: Connection, table: Table) -> tuple[int, str]:
    """Return a table's number of rows, and a hash of all of them in key order."""
    hashed, count = sha256(), 0
    for row in _rows(conn, table):
        hashed.update(json.dumps(list(row), ensure_ascii=False).encode())
        count += 1
    return count, hashed.hexdigest()


def _move(there: Store, here: Store) -> dict[str, int]:
    tables = [table for table in schema.metadata.sorted_tables if table.name not in LEFT_BEHIND]
    with there.reading() as conn, here.writing() as into:
        if into.execute(select(func.count()).select_from(schema.journal)).scalar_one():
            raise Refused("There is data at the new place already. Choose an empty one.")
        into.execute(delete(schema.meta))
        into.execute(delete(schema.ids))
        moved = {}
        for table in tables:
            _copy(conn, into, table)
            before, after = fingerprint(conn, table), fingerprint(into, table)
            if before != after:
                raise Refused(
                    f"Table {table.name} did not arrive completely ({before[0]} and {after[0]} rows). Nothing was kept."
                )
            moved[table.name] = after[0]
    return moved


def _copy(conn: Connection, into: Connection, table: Table) -> None:
    """Copy a table, carriers before what is packed into them: a row may only refer to an existing one."""
    some: list[dict[str, object]] = []
    order = [table.c.together_with.is_not(None)] if "together_with" in table.c else []
    for row in conn.execute(select(table).order_by(*order, *table.primary_key.columns)).mappings():
        some.append(dict(row))
        if len(some) == CHUNK:
            into.execute(insert(table), some)
            some = []
    if some:
        into.execute(insert(table), some)


def _rows(conn: Connection, table: Table) -> Iterator[tuple[object, ...]]:
    """Yield the rows in key order, sorted here because two databases sort texts differently."""
    columns = list(table.c)
    keys = [list(table.c).index(column) for column in table.primary_key.columns]
    rows = [tuple(row) for row in conn.execute(select(*columns))]
    yield from sorted(rows, key=lambda row: tuple(row[key] for key in keys))
