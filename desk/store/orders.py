"""Orders: taken in from files, kept whole, told apart by source and number."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from hashlib import blake2b
from typing import Any

from sqlalchemy import Connection, Row, select

from desk.domain.address import Address
from desk.domain.order import Order
from desk.store import schema, undo
from desk.store.ranges import chunks
from desk.store.records import from_text, to_text
from desk.store.transaction import Transaction

Key = tuple[str, str]  # source and number


@dataclass(frozen=True, slots=True)
class StoredOrder:
    """An order as kept, with its id and the version that rises with each write."""

    id: int
    version: int
    order: Order


@dataclass(frozen=True, slots=True)
class TakenIn:
    """What taking in orders did: numbers that are new, how many were the same again, numbers that changed."""

    new: tuple[str, ...] = ()
    same: int = 0
    changed: tuple[str, ...] = ()


def take_in(tx: Transaction, orders: Sequence[Order]) -> TakenIn:
    """Keep orders. One that is there with the same content is left alone; of one given twice the later counts."""
    texts = {(order.source, order.number): to_text(order) for order in orders}
    known = _known(tx.conn, texts)
    new: list[dict[str, str]] = []
    changed: dict[int, dict[str, str]] = {}
    changed_numbers: list[str] = []
    for (source, number), text in texts.items():
        columns = {"digest": _digest(text), "content": text}
        if (source, number) not in known:
            new.append({"source": source, "number": number, **columns})
            continue
        order_id, digest = known[source, number]
        if digest != columns["digest"]:
            changed[order_id] = columns
            changed_numbers.append(number)
    tx.insert(schema.orders, new)
    tx.update(schema.orders, changed)
    same = len(texts) - len(new) - len(changed)
    return TakenIn(tuple(row["number"] for row in new), same, tuple(changed_numbers))


def all_orders(conn: Connection) -> list[StoredOrder]:
    """Every order, in the order they were first taken in."""
    return [_stored(row) for row in conn.execute(select(schema.orders).order_by(schema.orders.c.id))]


def order(conn: Connection, order_id: int) -> StoredOrder:
    """The order with that id; KeyError when there is none."""
    row = conn.execute(select(schema.orders).where(schema.orders.c.id == order_id)).first()
    if row is None:
        raise KeyError(order_id)
    return _stored(row)


def find(conn: Connection, number: str) -> StoredOrder | None:
    """The order of that number, the one taken in last when two sources share it; None when nobody knows it."""
    wanted = select(schema.orders).where(schema.orders.c.number == number).order_by(schema.orders.c.id.desc())
    row = conn.execute(wanted.limit(1)).first()
    return _stored(row) if row else None


def forget_addresses(tx: Transaction, order_ids: Iterable[int]) -> int:
    """Blank who and where of orders, also in the journal; only the country stays. How many were blanked.

    The same file taken in again still counts as the same. This can never be undone.
    """
    stored = {number: _stored_row(row) for number, row in tx.rows(schema.orders, order_ids).items()}
    texts = {number: {"content": to_text(_without_address(kept.order))} for number, kept in stored.items()}
    blanked = tx.update(schema.orders, texts)
    if blanked:
        undo.forget_images(tx)
        tx.final = "Addresses that were forgotten cannot be brought back. Take the order file in again."
        tx.without_images = True
    return len(blanked)


def _without_address(order: Order) -> Order:
    return replace(order, address=Address(country=order.address.country), buyer_note="")


def _known(conn: Connection, keys: Iterable[Key]) -> dict[Key, tuple[int, str]]:
    """Id and digest of those orders that are kept already."""
    row = schema.orders.c
    known: dict[Key, tuple[int, str]] = {}
    for numbers in chunks({number for _, number in keys}):
        wanted = select(row.source, row.number, row.id, row.digest).where(row.number.in_(numbers))
        known |= {(source, number): (order_id, digest) for source, number, order_id, digest in conn.execute(wanted)}
    return known


def _digest(text: str) -> str:
    return blake2b(text.encode(), digest_size=16).hexdigest()


def _stored(row: Row[Any]) -> StoredOrder:
    return StoredOrder(row.id, row.version, from_text(Order, row.content))


def _stored_row(row: dict[str, Any]) -> StoredOrder:
    return StoredOrder(row["id"], row["version"], from_text(Order, row["content"]))
