"""Orders: imported from files, stored whole, identified by source and number."""

from __future__ import annotations

from collections.abc import Collection, Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from hashlib import blake2b
from typing import Any  # rows of SQLAlchemy

from sqlalchemy import Connection, Row, false, or_, select

from desk.domain.codes import Code
from desk.domain.orders.order import Order
from desk.domain.places.address import Address
from desk.store import journal, schema
from desk.store.ranges import chunks
from desk.store.records import from_text, plain_text, texts_in, to_text, without_version
from desk.store.transaction import Row as RowValues
from desk.store.transaction import Transaction

Key = tuple[str, str]  # source and number
AND = "+"  # between the digest of an order as imported and that of the order as corrected
StoreView = Connection  # what layers above call a connection they only hand on


@dataclass(frozen=True, slots=True)
class StoredOrder:
    """A stored order, with its id and a version that rises with each write."""

    id: int
    version: int
    order: Order


@dataclass(frozen=True, slots=True)
class SavedOrders:
    """The result of importing orders: new numbers, how many were unchanged, changed numbers."""

    new: tuple[str, ...] = ()
    same: int = 0
    changed: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class OrderComparison:
    """Orders compared with the store: unknown ones, unchanged ones, and changed ones by id."""

    new: tuple[Order, ...]
    same: tuple[Order, ...]
    changed: Mapping[int, Order]


def compare_with_stored(conn: Connection, orders: Sequence[Order]) -> OrderComparison:
    """Sort orders into new, same and changed; of one given twice, the later counts."""
    by_key = {(order.source, order.number): order for order in orders}
    known = _known(conn, by_key)
    new: list[Order] = []
    same: list[Order] = []
    changed: dict[int, Order] = {}
    for key, order in by_key.items():
        order_id, digest = known.get(key, (0, ""))
        if not order_id:
            new.append(order)
        elif _of_file(digest) == _digest(order):
            same.append(order)
        else:
            changed[order_id] = order
    for order_id, stored in some_orders(conn, changed).items():
        changed[order_id] = _with_entered(changed[order_id], stored.order)
        if _is_same(stored.order, changed[order_id]):
            same.append(changed.pop(order_id))
    return OrderComparison(tuple(new), tuple(same), changed)


def _with_entered(order: Order, stored: Order) -> Order:
    """Return an order of a file with its empty customs fields filled from what was entered.

    Values of single items are left out when the order's currency changed, since they can't be added to the others.
    """
    if is_forgotten(stored):
        return order
    if stored.currency != order.currency:
        stored = replace(stored, customs=replace(stored.customs, unit_values=()))
    address = order.address
    contact = replace(address, email=address.email or stored.address.email, phone=address.phone or stored.address.phone)
    return replace(order, customs=order.customs.filled_from(stored.customs), address=contact)


def _is_same(stored: Order, order: Order) -> bool:
    """Return whether an order is unchanged, even if its stored text has an older form: records gain fields.

    An order whose address was deleted is compared without it, so that importing its file again does not restore it.
    """
    return stored == order or (is_forgotten(stored) and stored == _without_address(order))


def save(tx: Transaction, orders: Sequence[Order]) -> SavedOrders:
    """Save orders. Unchanged ones are left alone; of one given twice, the later counts."""
    held = compare_with_stored(tx.conn, orders)
    tx.insert(schema.orders, [{"source": new.source, "number": new.number, **_columns(new)} for new in held.new])
    tx.update(schema.orders, {order_id: _columns(changed) for order_id, changed in held.changed.items()})
    changed_numbers = tuple(changed.number for changed in held.changed.values())
    return SavedOrders(tuple(new.number for new in held.new), len(held.same), changed_numbers)


def _columns(order: Order) -> dict[str, str]:
    return {"digest": _digest(order), "content": to_text(order)}


def all_orders(conn: Connection) -> list[StoredOrder]:
    """Return every order, in import order."""
    return [_stored(row) for row in conn.execute(select(schema.orders).order_by(schema.orders.c.id))]


def order(conn: Connection, order_id: int) -> StoredOrder:
    """Return the order with that id. Raises KeyError when there is none."""
    row = conn.execute(select(schema.orders).where(schema.orders.c.id == order_id)).first()
    if row is None:
        raise KeyError(order_id)
    return _stored(row)


def check_all(conn: Connection) -> None:
    """Read every order. Raises ValueError when one cannot be read, or differs from what was saved.

    A digest no longer fits once the address was forgotten, nor in data corrected before digests recorded corrections.
    """
    for row in conn.execute(select(schema.orders)):
        order = _stored(row).order
        if (order.number, order.source) != (row.number, row.source):
            raise ValueError(f"order {row.id} is filed under another number")
        fits = _hash(without_version(row.content)) == _of_content(row.digest)
        if not fits and not is_forgotten(order) and not _is_corrected(order):
            raise ValueError(f"order {row.id} is not as it was saved")


def some_orders(conn: Connection, order_ids: Iterable[int]) -> dict[int, StoredOrder]:
    """Return the existing orders among these, by id."""
    by_id: dict[int, StoredOrder] = {}
    for some in chunks(list(order_ids)):
        rows = conn.execute(select(schema.orders).where(schema.orders.c.id.in_(some)))
        by_id |= {row.id: _stored(row) for row in rows}
    return by_id


def to_countries(conn: Connection, countries: Iterable[str], among: Iterable[int]) -> dict[int, StoredOrder]:
    """Return the orders among these that go to these countries, by id."""
    row, wanted = schema.orders.c, set(countries)
    named = [row.content.contains(f'"country":{plain_text(country)}', autoescape=True) for country in sorted(wanted)]
    by_id: dict[int, StoredOrder] = {}
    for some in chunks(sorted(among)):
        stored = map(_stored, conn.execute(select(schema.orders).where(row.id.in_(some), or_(false(), *named))))
        by_id |= {one.id: one for one in stored if one.order.address.country in wanted}
    return by_id


def ids_of(conn: Connection, numbers: Iterable[str]) -> dict[str, int]:
    """Return order ids by number; if two sources share a number, the order imported last."""
    row = schema.orders.c
    ids: dict[str, int] = {}
    for some in chunks(list(numbers)):
        rows = conn.execute(select(row.number, row.id).where(row.number.in_(some)).order_by(row.id))
        ids |= {row.number: row.id for row in rows}
    return ids


def ids_ending(conn: Connection, digits: str) -> dict[str, int]:
    """Return order ids by number, of the numbers that end with these digits."""
    row = schema.orders.c
    wanted = select(row.number, row.id).where(row.number.endswith(digits, autoescape=True)).order_by(row.id)
    return {one.number: one.id for one in conn.execute(wanted)}


def ids_with_text(conn: Connection, text: str) -> list[int]:
    """Return ids of orders whose number or content has this text, as typed, in small, capital or title letters."""
    row = schema.orders.c
    quoted = {plain_text(way)[1:-1] for way in (text, text.casefold(), text.upper(), text.title())}
    ways = [column.icontains(way, autoescape=True) for way in sorted(quoted) for column in (row.number, row.content)]
    rows = conn.execute(select(row.id, row.number, row.content).where(or_(*ways)))
    wanted = text.casefold()  # in a value: the query also finds it in the name of a field, such as country
    return [one.id for one in rows if any(wanted in each.casefold() for each in (one.number, *texts_in(one.content)))]


def correct(tx: Transaction, order_id: int, order: Order) -> None:
    """Keep an order as a person corrected it; the file it came from still counts as the same."""
    before = _of_file(tx.rows(schema.orders, [order_id])[order_id]["digest"])
    tx.update(schema.orders, {order_id: {"digest": f"{before}{AND}{_digest(order)}", "content": to_text(order)}})


def _is_corrected(order: Order) -> bool:
    return any(issue.code is Code.EDITED_BY_HAND for issue in order.findings)


def forget_addresses(tx: Transaction, order_ids: Iterable[int]) -> int:
    """Delete names and addresses of orders, in the journal too; only the country stays. Return how many changed.

    Import findings go too, since they quote the address. Importing the same file again still counts as unchanged. This
    cannot be undone. `Store.wipe_forgotten` must follow: until then old pages of the file contain the texts.
    """
    stored = {number: _stored_row(row) for number, row in tx.rows(schema.orders, order_ids).items()}
    texts = {number: {"content": to_text(_without_address(order.order))} for number, order in stored.items()}
    blanked = tx.update(schema.orders, texts)
    if blanked:
        journal.forget_images(tx)
        tx.final = "Deleted addresses can't be restored."
        tx.without_images = True
        tx.note_wipe()
    return len(blanked)


def is_forgotten(order: Order) -> bool:
    """Return True when only the country of the address is left."""
    return order == _without_address(order)


def _without_address(order: Order) -> Order:
    customs = replace(order.customs, buyer_tax_id="")
    address = Address(country=order.address.country)
    return replace(order, address=address, buyer_note="", findings=(), customs=customs)


def _known(conn: Connection, keys: Collection[Key]) -> dict[Key, tuple[int, str]]:
    """Return id and digest of the orders already stored."""
    row = schema.orders.c
    known: dict[Key, tuple[int, str]] = {}
    for numbers in chunks({number for _, number in keys}):
        wanted = select(row.source, row.number, row.id, row.digest).where(row.number.in_(numbers))
        known |= {(source, number): (order_id, digest) for source, number, order_id, digest in conn.execute(wanted)}
    return known


def _of_file(digest: str) -> str:
    """Return the digest of the order as its file had it."""
    return digest.partition(AND)[0]


def _of_content(digest: str) -> str:
    """Return the digest of the order as it is now."""
    return digest.rpartition(AND)[2]


def _digest(order: Order) -> str:
    """Return a hash of the content; the version of the record's form does not count."""
    return _hash(plain_text(order))


def _hash(text: str) -> str:
    return blake2b(text.encode(), digest_size=16).hexdigest()


def _stored(row: Row[Any]) -> StoredOrder:
    return StoredOrder(row.id, row.version, from_text(Order, row.content))


def _stored_row(row: RowValues) -> StoredOrder:
    return StoredOrder(row["id"], row["version"], from_text(Order, row["content"]))
