"""The shop as rows: one each for the sender, the policy, and every choice, tax number, rate, mailer, product and stamp.

A row contains its record as typed JSON. Stamps keep the count entered; the stock on hand is that count plus later
movements, so that importing the same shop file again does not refill the drawer. Several lines of one stamp are one row
with the counts added, because movements identify a stamp by name.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import replace

from sqlalchemy import Connection, select

from desk.domain.places.address import Address
from desk.domain.shop.mailer import Mailer
from desk.domain.shop.product import Product
from desk.domain.shop.shop import ExchangeRate, Policy, SenderName, Shop
from desk.domain.shop.stamp import StampStock
from desk.store import schema
from desk.store.records import from_text, to_text
from desk.store.tables import movements
from desk.store.tables.movements import CountedKind
from desk.store.transaction import Transaction

_Key = tuple[str, str]  # kind and name


def save(tx: Transaction, shop: Shop) -> tuple[str, ...]:
    """Save the whole shop, leaving unchanged rows alone. Return what changed, as sorted `kind name`."""
    records = dict(_rows(shop))
    columns_by_key = {key: {"place": place, "content": to_text(record)} for key, (place, record) in records.items()}
    row = schema.shop_rows.c
    before = {
        (stored.kind, stored.name): stored for stored in tx.conn.execute(select(schema.shop_rows).order_by(row.id))
    }
    gone = {key: stored.id for key, stored in before.items() if key not in columns_by_key}
    new = {key: columns for key, columns in columns_by_key.items() if key not in before}
    moved = {
        key: before[key].id
        for key in columns_by_key
        if key in before and _is_another(before[key].content, records[key][1])
    }
    tx.delete(schema.shop_rows, gone.values())
    tx.insert(schema.shop_rows, [{"kind": kind, "name": name, **new[kind, name]} for kind, name in new])
    tx.update(schema.shop_rows, {before[key].id: columns_by_key[key] for key in columns_by_key if key in before})
    _count_stamps(tx, shop, {name for kind, name in (*new, *moved) if kind == "stamp"})
    return tuple(sorted(" ".join(key).strip() for key in (*gone, *new, *moved)))


def load(conn: Connection) -> Shop | None:
    """Return the shop with its present stamp counts; None when none was ever saved."""
    rows: dict[str, dict[str, str]] = {}
    for row in conn.execute(select(schema.shop_rows).order_by(schema.shop_rows.c.place, schema.shop_rows.c.id)):
        rows.setdefault(row.kind, {})[row.name] = row.content
    if "sender" not in rows:
        return None
    return Shop(
        sender=from_text(Address, rows["sender"][""]),
        policy=from_text(Policy, rows["policy"][""]),
        choices={name: from_text(tuple[str, ...], text) for name, text in rows.get("choice", {}).items()},
        tax_ids={name: from_text(str, text) for name, text in rows.get("tax id", {}).items()},
        rates=tuple(from_text(ExchangeRate, text) for text in rows.get("rate", {}).values()),
        mailers=tuple(from_text(Mailer, text) for text in rows.get("mailer", {}).values()),
        products=tuple(from_text(Product, text) for text in rows.get("product", {}).values()),
        stamps=tuple(_stamps_now(conn, rows.get("stamp", {}).values())),
        sender_name=from_text(SenderName, names[""]) if (names := rows.get("sender name")) else SenderName(),
    )


def _stamps_now(conn: Connection, texts: Iterable[str]) -> Iterator[StampStock]:
    """Yield stamps with the count on hand, at least 0."""
    there = movements.on_hand(conn, CountedKind.STAMP)
    for entered in (from_text(StampStock, text) for text in texts):
        yield replace(entered, count=max(there.get(movements.stamp_name(entered), 0), 0))


def _count_stamps(tx: Transaction, shop: Shop, moved: set[str]) -> None:
    counts = {name: stamp.count for name, stamp in _stamps_by_name(shop.stamps).items() if name in moved}
    movements.recount(tx, CountedKind.STAMP, counts)


def _is_another(text: str, record: object) -> bool:
    """Return whether a row has a different record; one in an older form may still be equal."""
    if text == to_text(record):
        return False
    try:
        return from_text(type(record), text) != record
    except ValueError:
        return True


def _rows(shop: Shop) -> Iterator[tuple[_Key, tuple[int, object]]]:
    """Yield index and record by kind and name; repeated names are numbered, so that no line is lost."""
    seen: Counter[_Key] = Counter()
    for place, (kind, name, record) in enumerate(_records(shop)):
        seen[kind, name] += 1
        again = f" #{seen[kind, name]}" if seen[kind, name] > 1 else ""
        yield (kind, name + again), (place, record)


def _records(shop: Shop) -> Iterator[tuple[str, str, object]]:
    yield "sender", "", shop.sender
    yield "policy", "", shop.policy
    if shop.sender_name != SenderName():
        yield "sender name", "", shop.sender_name
    yield from _named("choice", shop.choices)
    yield from _named("tax id", shop.tax_ids)
    yield from (("rate", f"{rate.from_currency} in {rate.to_currency}", rate) for rate in shop.rates)
    yield from (("mailer", mailer.name, mailer) for mailer in shop.mailers)
    yield from (("product", product.sku or product.name, product) for product in shop.products)
    yield from (("stamp", name, stamp) for name, stamp in _stamps_by_name(shop.stamps).items())


def _stamps_by_name(stamps: Iterable[StampStock]) -> dict[str, StampStock]:
    by_name: dict[str, StampStock] = {}
    for stamp in stamps:
        name = movements.stamp_name(stamp)
        before = by_name.get(name)
        by_name[name] = replace(stamp, count=before.count + stamp.count) if before else stamp
    return by_name


def _named(kind: str, records: Mapping[str, object]) -> Iterator[tuple[str, str, object]]:
    return ((kind, name, record) for name, record in records.items())
