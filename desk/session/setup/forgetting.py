"""Forgetting the addresses of orders that left long ago: nobody needs them, and what is not kept cannot be lost."""

from __future__ import annotations

from datetime import timedelta

from desk.session.sitting import Sitting
from desk.store import hand_overs, orders
from desk.store.times import to_utc_text

KEEP_DAYS = 90  # a parcel that is missing or comes back is heard of by then (common practice, no source)


def forgettable(sitting: Sitting, days: int = KEEP_DAYS) -> tuple[int, ...]:
    """Ids of orders of which every piece left so many days ago or more, and whose address is still here.

    ValueError for days below zero. An order with a piece that is aside, lost or came back keeps its address.
    """
    if days < 0:
        raise ValueError(f"{days} days")
    before = to_utc_text(sitting.clock.now() - timedelta(days=days))
    with sitting.store.reading() as conn:
        left = hand_overs.orders_that_left(conn, before)
        found = orders.some_orders(conn, left)
    return tuple(number for number in left if not orders.is_forgotten(found[number].order))


def forget_addresses(sitting: Sitting, days: int = KEEP_DAYS) -> int:
    """Blank name, street, place and note of those orders for good; how many. It is the one step without undo."""
    ids = forgettable(sitting, days)
    if ids:
        with sitting.store.act(f"Forget the addresses of {len(ids)} orders") as tx:
            orders.forget_addresses(tx, ids)
        sitting.announce(sitting.store.last_changes)
    return len(ids)
