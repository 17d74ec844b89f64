"""Orders to the same addressee on the same day: export limits count them together (IMM 524.21)."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from datetime import date

from desk.domain.orders.order import Order
from desk.domain.places.country import fold
from desk.store.tables import hand_overs, orders

Addressee = tuple[str, str, str]  # name, postal code, country


def addressee_of(order: Order) -> Addressee:
    """Return a key for the addressee of an order, the same for two spellings of a name and postal code."""
    address = order.address
    return fold(address.recipient or address.company), fold(address.postal_code).replace(" ", ""), address.country


def by_addressee(known: Iterable[Order]) -> Mapping[Addressee, tuple[Order, ...]]:
    """Return the orders by addressee."""
    found: dict[Addressee, list[Order]] = {}
    for order in known:
        found.setdefault(addressee_of(order), []).append(order)
    return {addressee: tuple(several) for addressee, several in found.items()}


def with_same_addressee(
    conn: orders.StoreView, some: Iterable[Order], on: date
) -> Mapping[Addressee, tuple[Order, ...]]:
    """Return every order to these orders' addressees that leaves on that day or has not left yet."""
    countries = {order.address.country for order in some}
    known = orders.to_countries(conn, countries, hand_overs.orders_here(conn, on))
    return by_addressee(known[number].order for number in sorted(known))
