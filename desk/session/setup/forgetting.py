"""Forgetting the addresses of orders that left long ago: nobody needs them, and what is not kept cannot be lost.

Country, contents, weights and amounts stay. What was forgotten is gone from the file itself, not only from the screens;
copies made before keep theirs until they are removed, four weeks at most for those the program makes.
"""

from __future__ import annotations

from collections.abc import Collection
from dataclasses import dataclass
from datetime import timedelta

from desk.session.sitting import Sitting
from desk.session.words.figures import counted
from desk.store.tables import hand_overs, orders, settings
from desk.store.times import to_utc_text

KEEP_DAYS = 90  # a parcel that is missing or comes back is heard of by then (common practice, no source)
PRIVACY = "privacy"


@dataclass(frozen=True, slots=True)
class Privacy:
    """How many days after hand-over addresses are forgotten at the next start; None: only by hand."""

    keep_days: int | None = KEEP_DAYS


def privacy(sitting: Sitting) -> Privacy:
    """Return what is set."""
    with sitting.store.reading() as conn:
        return settings.read(conn, PRIVACY, Privacy())


def keep_addresses_for(sitting: Sitting, days: int | None) -> None:
    """Set after how many days addresses are forgotten without being asked; None: never."""
    with sitting.store.act("Change how long addresses are kept") as tx:
        settings.write(tx, PRIVACY, Privacy(days))
    sitting.announce(sitting.store.last_changes)


def forgettable(sitting: Sitting, days: int = KEEP_DAYS) -> tuple[int, ...]:
    """Return the ids of orders of which every piece left so many days ago or more, and whose address is still here.

    ValueError for days below zero. An order with a piece that is set aside, lost or came back keeps its address.
    """
    if days < 0:
        raise ValueError(f"{days} days")
    before = to_utc_text(sitting.clock.now() - timedelta(days=days))
    with sitting.store.reading() as conn:
        left = hand_overs.orders_that_left(conn, before)
        found = orders.some_orders(conn, left)
    return tuple(number for number in left if not orders.is_forgotten(found[number].order))


def forget_due(sitting: Sitting) -> int:
    """Forget what is due by what is set; how many addresses. Also finishes a wipe that could not be done before."""
    days = privacy(sitting).keep_days
    count = forget_addresses(sitting, days) if days is not None else 0
    sitting.store.wipe_forgotten()
    return count


def forget_addresses(sitting: Sitting, days: int = KEEP_DAYS) -> int:
    """Blank name, street, place and note of those orders for good; how many. It is the one step without undo."""
    return forget_orders(sitting, forgettable(sitting, days))


def forget_orders(sitting: Sitting, ids: Collection[int]) -> int:
    """Blank name, street, place and note of these orders for good, in the file too; how many."""
    if ids:
        with sitting.store.act(f"Forget {counted(len(ids), 'address', 'addresses')}") as tx:
            orders.forget_addresses(tx, ids)
        sitting.announce(sitting.store.last_changes)
        sitting.store.wipe_forgotten()
    return len(ids)
