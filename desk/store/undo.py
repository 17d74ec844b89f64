"""Undo and redo: reverse a step of this bench, as a new step, unless a row has changed since.

Weighings and movements are append-only: undo returns the piece to its previous weighing, and adds the opposite of a
movement. Redo is the undo of an undo.
"""

from __future__ import annotations

from collections.abc import Iterable
from typing import TYPE_CHECKING, Any  # as json gives values

from sqlalchemy import Connection
from sqlalchemy.exc import IntegrityError

from desk.domain.faults import Refused
from desk.store import journal, schema
from desk.store.journal import Note, Step, StepKind
from desk.store.ranges import from_ranges
from desk.store.transaction import Row, Transaction

Images = dict[str, Any]  # by table, as json gives them
Changed = tuple[int, int, Row]  # id, revision afterward, old values
OPPOSITES = {schema.movements: "change", schema.ledger: "amount_minor"}  # undone by the same row with the opposite sign

if TYPE_CHECKING:
    from desk.store.store import Store


def undo(store: Store) -> Step:
    """Undo this bench's newest step, and return it. Raises Refused when there is none, or it cannot be undone."""
    return _revert(store, StepKind.UNDO)


def redo(store: Store) -> Step:
    """Redo the last undone step, and return it. Raises Refused when there is none, or it cannot be redone."""
    return _revert(store, StepKind.REDO)


def next_undo(conn: Connection, bench: str) -> Step | None:
    """Return the step undo would undo, for the menu; None when there is none."""
    return journal.next_undo(conn, bench)


def next_redo(conn: Connection, bench: str) -> Step | None:
    """Return the step redo would redo, for the menu; None when there is none."""
    return journal.next_redo(conn, bench)


def _revert(store: Store, kind: StepKind) -> Step:
    find = journal.next_undo if kind is StepKind.UNDO else journal.next_redo
    with store.reading() as conn:
        step = find(conn, store.bench)
    if step is None:
        raise Refused(f"There is nothing to {kind.value}.")
    if step.final:
        raise Refused(step.final)
    try:
        with store.write(Note(step.name, step.facts, kind, step.revision)) as tx:
            head, images = journal.images_of(tx.conn, step.revision)
            if head != schema.SCHEMA_HEAD:
                raise Refused(f"“{step.name}” was done by an earlier version of the program and stays as it is.")
            _check(tx, step, images)
            _apply(tx, images)
    except IntegrityError as fault:
        raise Refused(_moved_on(step)) from fault
    return step


def _moved_on(step: Step) -> str:
    return f"“{step.name}” cannot be undone: what it touched has been changed since. Change it by hand instead."


def _check(tx: Transaction, step: Step, images: Images) -> None:
    """Check that every row is as the step left it. Raises Refused otherwise."""
    for name, image in images.items():
        if name in schema.APPEND_ONLY:
            continue
        expected = {number: revision for number, revision, _ in image.get("changed", ())}
        for revision, runs in image.get("new", ()):
            expected |= dict.fromkeys(from_ranges(runs), revision)
        try:
            rows = tx.rows(schema.JOURNALED[name], expected)
        except KeyError:
            raise Refused(_moved_on(step)) from None
        if any(row["revision"] != expected[number] for number, row in rows.items()):
            raise Refused(_moved_on(step))


def _apply(tx: Transaction, images: Images) -> None:
    """Delete children before parents, then restore parents before children."""
    for name, table in reversed(schema.JOURNALED.items()):
        if name not in schema.APPEND_ONLY:
            tx.delete(table, [n for _, runs in images.get(name, {}).get("new", ()) for n in from_ranges(runs)])
    for name, table in schema.JOURNALED.items():
        image = images.get(name, {})
        _restore(tx, name, image.get("changed", ()))
        tx.put_back(table, [row | {"version": row["version"] + 1} for row in image.get("gone", ())])
    for table, column in OPPOSITES.items():
        moved = [n for _, runs in images.get(table.name, {}).get("new", ()) for n in from_ranges(runs)]
        tx.insert(table, [_opposite(row, column, tx.now) for row in tx.rows(table, moved).values()])


def _restore(tx: Transaction, name: str, changed: Iterable[Changed]) -> None:
    """Restore old values, grouping rows with the same columns."""
    alike: dict[tuple[str, ...], dict[int, Row]] = {}
    for number, _, old in changed:
        alike.setdefault(tuple(sorted(old)), {})[number] = old
    for values in alike.values():
        tx.update(schema.JOURNALED[name], values)


def _opposite(row: Row, column: str, now: str) -> Row:
    values = {name: value for name, value in row.items() if name != "id"}
    return values | {"at": now, column: -row[column]}
