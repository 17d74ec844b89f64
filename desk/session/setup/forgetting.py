"""Delete the addresses of orders mailed long ago: what is no longer needed should not be stored.

Country, contents, weights and amounts stay. Deleted addresses are gone from the file itself, not only from the screens;
existing copies keep theirs until they are deleted, the program's own after four weeks at most.
"""

from __future__ import annotations

from collections.abc import Collection
from dataclasses import dataclass
from datetime import timedelta

from desk.session.sitting import Sitting
from desk.session.words.figures import counted
from desk.store.tables import hand_overs, orders, settings
from desk.store.times import to_utc_text

KEEP_DAYS = 90  # a missing or returned parcel is known by then (common practice, no source)
PRIVACY = "privacy"


@dataclass(frozen=True, slots=True)
class Privacy:
    """After how many days past hand-over addresses are deleted at the next start; None: only by hand."""

    keep_days: int | None = KEEP_DAYS


def privacy(sitting: Sitting) -> Privacy:
    """Return the setting."""
    with sitting.store.reading() as conn:
        return settings.read(conn, PRIVACY, Privacy())


def keep_addresses_for(sitting: Sitting, days: int | None) -> None:
    """Set after how many days addresses are deleted automatically; None: never."""
    with sitting.store.act("Time to keep addresses saved") as tx:
        settings.write(tx, PRIVACY, Privacy(days))
    sitting.announce(sitting.store.last_changes)


def forgettable(sitting: Sitting, days: int = KEEP_DAYS) -> tuple[int, ...]:
    """Return the ids of orders handed over that many days ago or more that still have an address.

    ValueError for negative days. An order with a piece that is set aside, lost or came back keeps its address.
    """
    if days < 0:
        raise ValueError(f"{days} days")
    before = to_utc_text(sitting.clock.now() - timedelta(days=days))
    with sitting.store.reading() as conn:
        left = hand_overs.orders_that_left(conn, before)
        stored = orders.some_orders(conn, left)
    return tuple(number for number in left if not orders.is_forgotten(stored[number].order))


def forget_due(sitting: Sitting) -> int:
    """Delete the addresses due by the setting and return how many. Also finishes an interrupted wipe."""
    days = privacy(sitting).keep_days
    count = forget_addresses(sitting, days) if days is not None else 0
    sitting.store.wipe_forgotten()
    return count


def forget_addresses(sitting: Sitting, days: int = KEEP_DAYS) -> int:
    """Delete name, street, city and note of those orders for good; return how many. The one step without undo."""
    return forget_orders(sitting, forgettable(sitting, days))


def forget_orders(sitting: Sitting, ids: Collection[int]) -> int:
    """Delete name, street, city and note of these orders for good, in the file too; return how many."""
    if ids:
        with sitting.store.act(f"{counted(len(ids), 'address', 'addresses')} deleted") as tx:
            orders.forget_addresses(tx, ids)
        sitting.announce(sitting.store.last_changes)
        sitting.store.wipe_forgotten()
    return len(ids)
