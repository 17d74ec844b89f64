"""Import orders and the shop file. The same again changes nothing; a changed order replaces the old one."""

from __future__ import annotations

from collections.abc import Sequence

from desk.domain.orders.order import Order
from desk.domain.orders.piece import PieceKey
from desk.domain.shop.shop import Shop
from desk.session.sitting import Sitting
from desk.session.unreported import report_later
from desk.store.tables import orders, pieces, shop


def import_shop(sitting: Sitting, incoming: Shop) -> None:
    """Save the imported shop."""
    with sitting.store.act("Shop file imported") as tx:
        shop.save(tx, incoming)
    sitting.announce(sitting.store.last_changes)


def import_orders(sitting: Sitting, incoming: Sequence[Order]) -> orders.SavedOrders:
    """Import orders as one step, each with its first piece; changes are saved to be reported later."""
    with sitting.store.act("Orders imported", count=len(incoming)) as tx:
        saved = orders.save(tx, incoming)
        pieces.ensure_pieces(tx, [PieceKey(order.number) for order in incoming])
        report_later(tx, orders=saved.changed)
    sitting.announce(sitting.store.last_changes)
    return saved
