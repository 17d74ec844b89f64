"""What a bench is in the middle of, saved outside any step, so that the next start can report it after a crash."""

from __future__ import annotations

from sqlalchemy import Connection, delete, insert, select

from desk.store import schema
from desk.store.store import Store

_PREFIX = "unfinished"
_RUN = "unfinished-run "


def begin(store: Store, kind: str, what: str) -> None:
    """Record that this bench has begun work of that kind. Raises Refused like any write."""
    name = _name(store, kind)
    with store.writing() as conn:
        conn.execute(delete(schema.meta).where(schema.meta.c.name == name))
        conn.execute(insert(schema.meta), {"name": name, "value": what})


def end(store: Store, kind: str) -> None:
    """Record that this bench has ended work of that kind."""
    with store.writing() as conn:
        conn.execute(delete(schema.meta).where(schema.meta.c.name == _name(store, kind)))


def begun(conn: Connection, store: Store) -> dict[str, str]:
    """Return the work this bench began and did not end, by kind."""
    start = _name(store, "")
    row = schema.meta.c
    rows = conn.execute(select(row.name, row.value).where(row.name.startswith(start, autoescape=True)))
    return {one.name.removeprefix(start): one.value for one in rows}


def begin_run(store: Store, what: str, at: str) -> None:
    """Record that a headless run over these files has begun. The same files again replace the record."""
    with store.writing() as conn:
        _end_run(conn, what)
        conn.execute(insert(schema.meta), {"name": f"{_RUN}{what}", "value": at})


def end_run(store: Store, what: str) -> None:
    """Record that a headless run over these files has ended."""
    with store.writing() as conn:
        _end_run(conn, what)


def runs(conn: Connection) -> dict[str, str]:
    """Return when each headless run began that has not ended, by its files."""
    row = schema.meta.c
    rows = conn.execute(select(row.name, row.value).where(row.name.startswith(_RUN, autoescape=True)))
    return {one.name.removeprefix(_RUN): one.value for one in rows}


def _end_run(conn: Connection, what: str) -> None:
    conn.execute(delete(schema.meta).where(schema.meta.c.name == f"{_RUN}{what}"))


def was_cut_off(conn: Connection, bench: str) -> bool:
    """Return True when this bench's last window did not close properly; ask before following other benches."""
    row = schema.benches.c
    return conn.execute(select(row.name).where(row.name == bench)).first() is not None


def _name(store: Store, kind: str) -> str:
    return f"{_PREFIX} {store.bench} {kind}"
