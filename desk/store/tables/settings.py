"""Settings: small frozen records of the user's choices, each saved whole under a name."""

from __future__ import annotations

import logging
from typing import TypeVar
from weakref import WeakKeyDictionary

from sqlalchemy import Connection, Engine, select

from desk.store import schema
from desk.store.records import from_text, to_text
from desk.store.transaction import Transaction

T = TypeVar("T")
log = logging.getLogger("desk.store")
_UNREAD: WeakKeyDictionary[Engine, set[str]] = WeakKeyDictionary()


def read(conn: Connection, name: str, default: T) -> T:
    """Return the record saved under a name, of the default's type; the default when there is none.

    An unreadable record counts as none: it is logged once, and is in `unread` until saved again.
    """
    text = conn.execute(select(schema.settings.c.content).where(schema.settings.c.name == name)).scalar()
    if text is None:
        return default
    try:
        return from_text(type(default), text)
    except (ValueError, TypeError, KeyError, AttributeError, ArithmeticError):
        if name not in unread(conn.engine):
            log.warning("the setting %r cannot be read; its default is used", name)
            _UNREAD.setdefault(conn.engine, set()).add(name)
        return default


def unread(engine: Engine) -> frozenset[str]:
    """Return the names of a store's settings that could not be read."""
    return frozenset(_UNREAD.get(engine, ()))


def write(tx: Transaction, name: str, record: object) -> bool:
    """Save a record under a name. Return False when it was unchanged."""
    _UNREAD.get(tx.conn.engine, set()).discard(name)
    row_id = tx.conn.execute(select(schema.settings.c.id).where(schema.settings.c.name == name)).scalar()
    if row_id is None:
        tx.insert(schema.settings, [{"name": name, "content": to_text(record)}])
        return True
    return bool(tx.update(schema.settings, {row_id: {"content": to_text(record)}}))
