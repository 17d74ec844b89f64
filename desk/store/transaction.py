"""Transaction: the only way to write rows, which records what undo and other benches need.

A new row is recorded by its id (in runs, so that ten thousand orders take one entry), a changed row by the old values
of its changed columns, a deleted row whole; each with its revision afterward.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Mapping, Sequence
from functools import cache
from typing import Any  # rows and statements of SQLAlchemy

from sqlalchemy import Connection, Insert, Select, Table, Update, bindparam, delete, insert, select, update
from sqlalchemy.dialects.postgresql import insert as upsert_in_postgresql
from sqlalchemy.dialects.sqlite import insert as upsert_in_sqlite
from sqlalchemy.sql.dml import ReturningInsert

from desk.domain.changes import Changes
from desk.store import schema
from desk.store.ranges import chunks, to_ranges

Row = dict[str, Any]  # as SQLAlchemy takes and gives it
FIRST_VERSION = 1


class Transaction:
    """The writes of one step. `now` is its time as UTC text.

    `step` may name the step more exactly once its effect is known; otherwise the name given to `Store.act` is used.
    `final` is the sentence saying why the step can never be undone; `without_images` keeps the old values out of the
    journal. `aside` is True for a step a person would never mean by Undo: other benches follow it, and undo skips it.
    """

    def __init__(self, conn: Connection, now: str) -> None:
        self.conn = conn
        self.now = now
        self.step = ""
        self.final = ""
        self.without_images = False
        self.aside = False
        self._new: dict[str, dict[int, int]] = defaultdict(dict)  # table -> id -> revision afterward
        self._changed: dict[str, dict[int, Row]] = defaultdict(dict)  # table -> id -> old values
        self._after: dict[str, dict[int, int]] = defaultdict(dict)  # table -> changed id -> revision afterward
        self._gone: dict[str, dict[int, Row]] = defaultdict(dict)  # table -> id -> the whole row
        self._orders: set[int] = set()
        self._pieces: set[int] = set()
        self._shop = self._settings = False
        self._revision: int | None = None

    @property
    def revision(self) -> int:
        """Return this step's number in the journal; reserved at its first write, so that none is wasted."""
        if self._revision is None:
            (self._revision,) = self.take_ids(schema.journal.name, 1)
        return self._revision

    def insert(self, table: Table, rows: Sequence[Row]) -> range:
        """Write new rows under new ids, in that order. Return the ids."""
        if not rows:
            return range(0)
        fresh = self.take_ids(table.name, len(rows))
        base: Row = {}
        if table.name not in schema.APPEND_ONLY:
            base = {"version": FIRST_VERSION, "revision": self.revision}
        self.put_back(table, [{"id": number, **base, **row} for number, row in zip(fresh, rows, strict=True)])
        return fresh

    def put_back(self, table: Table, rows: Sequence[Row]) -> None:
        """Write whole rows with their own id, version and revision."""
        if not rows:
            return
        self.conn.execute(_insert(table), rows[0] if len(rows) == 1 else list(rows))
        for row in rows:
            self._new[table.name][row["id"]] = row.get("revision", self.revision)
            self._touch(table, row)

    def update(self, table: Table, values: Mapping[int, Row], before: Mapping[int, Row] | None = None) -> list[int]:
        """Set columns of rows by id, the same columns in each; unchanged rows are left alone. Return the changed ids.

        `before` are the rows as this transaction read them; without it they are read here. Undo sets the old `revision`
        too.

        Raises:
            KeyError: a row does not exist.
        """
        before = self.rows(table, values) if before is None else before
        moved = [number for number, row in values.items() if any(before[number][name] != row[name] for name in row)]
        if not moved:
            return []
        columns = list(values[moved[0]])
        written = {number: {"revision": self.revision, **values[number]} for number in moved}
        values_of = [
            {"b_id": number, "b_version": before[number]["version"] + 1}
            | {f"b_{name}": value for name, value in written[number].items()}
            for number in moved
        ]
        statement = _update(table, tuple(sorted({*columns, "version", "revision"})))
        self.conn.execute(statement, values_of[0] if len(values_of) == 1 else values_of)
        for number in moved:
            self._note_change(table, before[number], written[number])
        return moved

    def delete(self, table: Table, ids: Iterable[int]) -> None:
        """Delete rows. Raises KeyError when one does not exist."""
        before = self.rows(table, ids)
        for some in chunks(before):
            self.conn.execute(delete(table).where(table.c.id.in_(some)))
        for number, row in before.items():
            self._touch(table, row)
            if self._new[table.name].pop(number, None) is None:
                self._gone[table.name][number] = row | self._changed[table.name].pop(number, {})

    def rows(self, table: Table, ids: Iterable[int]) -> dict[int, Row]:
        """Return the rows with those ids. Raises KeyError with the first missing id."""
        wanted = list(ids)
        by_id: dict[int, Row] = {}
        for some in chunks(wanted):
            for row in self.conn.execute(_by_ids(table), {"ids": some}).mappings():
                by_id[row["id"]] = dict(row)
        return {number: by_id[number] for number in wanted}

    def take_ids(self, name: str, count: int) -> range:
        """Return new ids for a table; never reused, even when their rows are undone."""
        statement = _take_ids(self.conn.dialect.name)
        end = int(self.conn.execute(statement, {"b_name": name, "b_next": 1 + count, "b_count": count}).scalar_one())
        return range(end - count, end)

    def note_wipe(self) -> None:
        """Record that deleted texts must leave the file; `Store.wipe_forgotten` does it after the commit."""
        upsert = upsert_in_sqlite if self.conn.dialect.name == "sqlite" else upsert_in_postgresql
        statement = upsert(schema.meta).values(name=schema.WIPE_DUE, value=self.now)
        self.conn.execute(
            statement.on_conflict_do_update(index_elements=[schema.meta.c.name], set_={"value": self.now})
        )

    def changes(self) -> Changes:
        """Return what was touched so far."""
        return Changes(frozenset(self._pieces), frozenset(self._orders), self._shop, self._settings)

    def images(self) -> dict[str, object]:
        """Return what undo needs, by table: `new` by revision, `changed` and `gone`; empty when nothing was written."""
        return {name: image for name in schema.JOURNALED if (image := self._image(name))}

    def _image(self, name: str) -> dict[str, object]:
        image: dict[str, object] = {}
        by_revision: dict[int, list[int]] = defaultdict(list)
        for number, revision in self._new[name].items():
            by_revision[revision].append(number)
        if by_revision:
            image["new"] = [[revision, to_ranges(ids)] for revision, ids in sorted(by_revision.items())]
        if changed := self._changed[name]:
            image["changed"] = [[number, self._after[name][number], old] for number, old in changed.items()]
        if gone := self._gone[name]:
            image["gone"] = list(gone.values())
        return image

    def _note_change(self, table: Table, before: Row, written: Row) -> None:
        number, revision = before["id"], written["revision"]
        self._touch(table, before)
        self._touch(table, written | {"id": number})
        if number in self._new[table.name]:
            self._new[table.name][number] = revision
            return
        old = self._changed[table.name].setdefault(number, {})
        for name in written:
            old.setdefault(name, before[name])
        self._after[table.name][number] = revision

    def _touch(self, table: Table, row: Row) -> None:
        if table is schema.orders:
            self._orders.add(row["id"])
        elif table is schema.settings:
            self._settings = True
        elif table is schema.shop_rows or table is schema.movements:
            self._shop = True
        piece = row["id"] if table is schema.pieces else row.get("piece_id")
        self._pieces.update(number for number in (piece, row.get("together_with")) if number is not None)


# Statements built once: building takes SQLAlchemy longer than SQLite takes to run them (0.25 against 0.03 ms).


@cache  # saves up to 4% of a weighing: SQLAlchemy looks a known statement up faster
def _insert(table: Table) -> Insert:
    return insert(table)


@cache  # saves up to 12% of a weighing
def _by_ids(table: Table) -> Select[Any]:
    return select(table).where(table.c.id.in_(bindparam("ids", expanding=True)))


@cache  # saves up to 9% of a weighing
def _update(table: Table, columns: tuple[str, ...]) -> Update:
    values: dict[str, object] = {name: bindparam(f"b_{name}") for name in columns}
    return update(table).where(table.c.id == bindparam("b_id")).values(values)


@cache  # saves 1.2% of a weighing
def _take_ids(dialect: str) -> ReturningInsert[Any]:
    upsert = upsert_in_sqlite if dialect == "sqlite" else upsert_in_postgresql
    statement = upsert(schema.ids).values(name=bindparam("b_name"), next=bindparam("b_next"))
    counted = schema.ids.c.next + bindparam("b_count", type_=schema.ids.c.next.type)
    statement = statement.on_conflict_do_update(index_elements=[schema.ids.c.name], set_={"next": counted})
    return statement.returning(schema.ids.c.next)
