"""The schema of a store: find its version, create it, and upgrade an older one.

An older SQLite store is copied before it is changed. The change is one transaction, rolled back when a row then refers
to a missing one or a record cannot be read.
"""

from __future__ import annotations

import uuid
from collections.abc import Callable

from sqlalchemy import Connection, Engine, insert, inspect, select

from desk.domain.faults import Refused
from desk.store import schema
from desk.store.engine import take_write_lock
from desk.store.health import damage_in


def head_of(conn: Connection) -> str | None:
    """Return the schema version of the connection's store; None if empty. Raises Refused when it is not a store."""
    tables = set(inspect(conn).get_table_names())
    if not tables:
        return None
    if not {schema.head.name, schema.meta.name} <= tables:
        raise Refused("This database was not made by this program. Choose another.")
    return str(conn.execute(select(schema.head.c.version_num)).scalar_one())


def refuse_newer(head: str) -> None:
    """Refuse a store written by a later program."""
    if head not in schema.KNOWN_HEADS:
        raise Refused(
            f"This data was written by a newer version of the program (schema {head}, known here up to "
            f"{schema.SCHEMA_HEAD}). Update the program. Nothing was changed."
        )


def bring_up_to_date(engine: Engine, now: str, keep_copy: Callable[[], object]) -> None:
    """Create the tables of a new store, or migrate an older one after `keep_copy`."""
    with engine.connect().execution_options(only_reads=True) as conn, conn.begin():
        before = head_of(conn)
    if before is not None and before != schema.SCHEMA_HEAD:
        refuse_newer(before)
        keep_copy()
    with engine.connect() as conn, conn.begin():
        take_write_lock(conn)
        head = head_of(conn)  # another process may have been faster
        if head is None:
            _create(conn, now)
        elif head != schema.SCHEMA_HEAD:
            refuse_newer(head)
            _migrate(conn)


def _create(conn: Connection, now: str) -> None:
    schema.metadata.create_all(conn)
    schema.head.create(conn)
    conn.execute(insert(schema.head).values(version_num=schema.SCHEMA_HEAD))
    conn.execute(
        insert(schema.meta), [{"name": "store", "value": str(uuid.uuid4())}, {"name": "created", "value": now}]
    )


def _migrate(conn: Connection) -> None:
    from desk.store.migrations import upgrade  # Alembic is imported only when there is something to do

    if conn.dialect.name == "sqlite":
        upgrade(conn)
    else:
        from desk.store.server import unhurried

        with unhurried(conn):
            upgrade(conn)
    if wrong := damage_in(conn):
        raise Refused(f"The data could not be updated: {wrong}. It was left as it was.")
