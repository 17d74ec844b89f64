"""Settings: small frozen records of what a person has set, each kept whole under a name."""

from __future__ import annotations

from typing import TypeVar

from sqlalchemy import Connection, select

from desk.store import schema
from desk.store.records import from_text, to_text
from desk.store.transaction import Transaction

T = TypeVar("T")


def read(conn: Connection, name: str, default: T) -> T:
    """The record kept under a name, of the kind of the default; the default when there is none or it fits no more."""
    text = conn.execute(select(schema.settings.c.content).where(schema.settings.c.name == name)).scalar()
    if text is None:
        return default
    try:
        return from_text(type(default), text)
    except (ValueError, TypeError, KeyError, AttributeError, ArithmeticError):
        return default  # written by an older program for a record of another shape


def write(tx: Transaction, name: str, record: object) -> bool:
    """Keep a record under a name; False when it was the same."""
    found = tx.conn.execute(select(schema.settings.c.id).where(schema.settings.c.name == name)).scalar()
    if found is None:
        tx.insert(schema.settings, [{"name": name, "content": to_text(record)}])
        return True
    return bool(tx.update(schema.settings, {found: {"content": to_text(record)}}))
