"""The journal: each step's name, what it touched, and what was there before.

Its rows are numbered by revision, without gaps and in commit order, since only one bench writes at a time. A second
bench follows by asking for changes since the revision it last saw.
"""

from __future__ import annotations

import json
from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import datetime
from enum import StrEnum
from typing import Any  # rows and statements of SQLAlchemy

from sqlalchemy import Connection, Row, Select, bindparam, func, insert, select, update
from sqlalchemy.dialects.postgresql import insert as upsert_in_postgresql
from sqlalchemy.dialects.sqlite import insert as upsert_in_sqlite

from desk.domain.changes import Changes
from desk.domain.finding import Fact
from desk.store import schema
from desk.store.engine import tell_others
from desk.store.ranges import from_ranges, to_ranges
from desk.store.records import plain_text
from desk.store.transaction import Transaction

AT_BENCH = "at_bench"  # the fact of a step done with one piece in hand


class StepKind(StrEnum):
    """How a step came about."""

    ACT = "act"
    UNDO = "undo"
    REDO = "redo"


@dataclass(frozen=True, slots=True)
class Note:
    """The name of a step to come, with the facts for its sentence; `reverts` is the revision it undoes or redoes."""

    step: str
    facts: Mapping[str, Fact] = field(default_factory=dict, hash=False)
    kind: StepKind = StepKind.ACT
    reverts: int | None = None


@dataclass(frozen=True, slots=True)
class Step:
    """A step in the journal. `final` is the sentence saying why it cannot be undone, or empty."""

    revision: int
    bench: str
    kind: StepKind
    name: str
    facts: Mapping[str, Fact] = field(hash=False)
    at: datetime
    final: str

    @property
    def is_at_bench(self) -> bool:
        """True for a step that was done with one piece in hand, or with those identical to it."""
        return self.facts.get(AT_BENCH) is True


# Built once; see the end of transaction.py.
_INSERT, _INSERT_PIECES = insert(schema.journal), insert(schema.journal_pieces)
_OVER, _ROW = update(schema.journal).values(live=False), schema.journal.c
_END_REDO = _OVER.where(_ROW.bench == bindparam("b_bench"), _ROW.live, _ROW.kind == bindparam("b_kind"))
_END_ONE = _OVER.where(_ROW.id == bindparam("b_id"))


def append(tx: Transaction, note: Note, bench: str) -> int | None:
    """Write the journal row of a transaction. Return its revision, or None when no journaled row changed."""
    images = tx.images()
    if not images:
        return None
    if not tx.aside:
        _settle_live(tx.conn, note, bench)
    changes = tx.changes()
    tx.conn.execute(
        _INSERT,
        {
            "id": tx.revision,
            "bench": bench,
            "kind": note.kind.value,
            "step": tx.step or note.step,
            "facts": plain_text(dict(note.facts)),
            "at": tx.now,
            "schema_head": schema.SCHEMA_HEAD,
            "live": not tx.aside,
            "final": tx.final,
            "touched": plain_text(_touched(changes)),
            "images": plain_text({} if tx.without_images else images),
        },
    )
    if changes.pieces:
        history = [{"piece_id": piece_id, "revision": tx.revision} for piece_id in sorted(changes.pieces)]
        tx.conn.execute(_INSERT_PIECES, history[0] if len(history) == 1 else history)
    return tx.revision


def revision(conn: Connection) -> int:
    """Return the newest revision; 0 in a new store."""
    return int(conn.execute(select(func.max(schema.journal.c.id))).scalar_one() or 0)


def changes_since(conn: Connection, seen: int, but: str = "") -> Changes:
    """Return everything that steps after that revision touched, by all benches except `but`."""
    changes, row = Changes(), schema.journal.c
    for text in conn.execute(select(row.touched).where(row.id > seen, row.bench != but)).scalars():
        touched = json.loads(text)
        changes |= Changes(
            frozenset(from_ranges(touched["pieces"])),
            frozenset(from_ranges(touched["orders"])),
            touched["shop"],
            touched["settings"],
        )
    return changes


def put_bench(conn: Connection, name: str, piece_id: int | None, now: str) -> None:
    """Record that a bench is here, and which piece is open there; other benches learn of it at once."""
    upsert = upsert_in_sqlite if conn.dialect.name == "sqlite" else upsert_in_postgresql
    values = {"piece_id": piece_id, "seen_at": now}
    statement = upsert(schema.benches).values(name=name, **values)
    conn.execute(statement.on_conflict_do_update(index_elements=[schema.benches.c.name], set_=values))
    tell_others(conn)


def steps(conn: Connection, limit: int = 100) -> list[Step]:
    """Return the newest steps, newest first."""
    return [_step(row) for row in conn.execute(_steps().limit(limit))]


def newest_of(conn: Connection, bench: str) -> Step | None:
    """Return the newest step of a bench, including one that undid another; None when it did nothing."""
    row = conn.execute(_steps().where(schema.journal.c.bench == bench).limit(1)).first()
    return None if row is None else _step(row)


def steps_of_piece(conn: Connection, piece_id: int, limit: int = 20) -> list[Step]:
    """Return the newest steps that touched a piece, newest first."""
    row = schema.journal_pieces.c
    newest = select(row.revision).where(row.piece_id == piece_id).order_by(row.revision.desc()).limit(limit)
    return [_step(entry) for entry in conn.execute(_steps().where(schema.journal.c.id.in_(newest)))]


def next_undo(conn: Connection, bench: str) -> Step | None:
    """Return the step of that bench that undo would undo, or None."""
    return _newest(conn, bench, StepKind.ACT, StepKind.REDO)


def next_redo(conn: Connection, bench: str) -> Step | None:
    """Return the step of that bench that redo would repeat, or None; a new step leaves none."""
    return _newest(conn, bench, StepKind.UNDO)


def images_of(conn: Connection, number: int) -> tuple[str, dict[str, object]]:
    """Return the schema a step was written under, and its images from `Transaction.images`."""
    columns = select(schema.journal.c.schema_head, schema.journal.c.images).where(schema.journal.c.id == number)
    row = conn.execute(columns).one()
    return row.schema_head, json.loads(row.images)


def forget_images(tx: Transaction) -> None:
    """Empty the images of every step that touched an order, since they contain old addresses. Cannot be undone."""
    row = schema.journal.c
    with_orders = select(row.id).where(row.images.contains('"orders":'))
    emptied = schema.journal.update().where(row.id.in_(with_orders))
    tx.conn.execute(
        emptied.values(images="{}", final="Addresses have since been deleted, so this step can't be undone.")
    )


def _settle_live(conn: Connection, note: Note, bench: str) -> None:
    """Mark an undone step as no longer live; a new act ends every chance to redo."""
    if note.kind is StepKind.ACT:
        conn.execute(_END_REDO, {"b_bench": bench, "b_kind": StepKind.UNDO.value})
    else:
        conn.execute(_END_ONE, {"b_id": note.reverts})


def _touched(changes: Changes) -> dict[str, object]:
    return {
        "pieces": to_ranges(changes.pieces),
        "orders": to_ranges(changes.orders),
        "shop": changes.shop,
        "settings": changes.settings,
    }


def _steps() -> Select[Any]:
    row = schema.journal.c
    return select(row.id, row.bench, row.kind, row.step, row.facts, row.at, row.final).order_by(row.id.desc())


def _newest(conn: Connection, bench: str, *kinds: StepKind) -> Step | None:
    row = schema.journal.c
    wanted = _steps().where(row.bench == bench, row.live, row.kind.in_([kind.value for kind in kinds]))
    newest = conn.execute(wanted.limit(1)).first()
    return _step(newest) if newest else None


def _step(row: Row[Any]) -> Step:
    return Step(
        row.id,
        row.bench,
        StepKind(row.kind),
        row.step,
        json.loads(row.facts),
        datetime.fromisoformat(row.at),
        row.final,
    )
