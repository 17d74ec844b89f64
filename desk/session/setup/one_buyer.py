"""The saved data of one buyer: found by what they gave, exported for them, deleted when they ask."""

from __future__ import annotations

import json
from dataclasses import dataclass
from pathlib import Path

from desk.domain.faults import Refused
from desk.domain.whole_file import write_whole
from desk.session.setup.forgetting import forget_orders
from desk.session.sitting import Sitting
from desk.store.records import to_plain
from desk.store.tables import ledger, orders, papers, pieces, weighings
from desk.store.tables.orders import StoredOrder, StoreView


@dataclass(frozen=True, slots=True)
class BuyerOrders:
    """The orders of one buyer: those that can be deleted, and the numbers still to be mailed."""

    done: tuple[StoredOrder, ...] = ()
    to_mail: tuple[StoredOrder, ...] = ()

    @property
    def all(self) -> tuple[StoredOrder, ...]:
        """Every order of the buyer."""
        return (*self.done, *self.to_mail)


def orders_of_buyer(sitting: Sitting, typed: str) -> BuyerOrders:
    """Return the orders with this email, name, company, phone or number, in any case.

    An order is still to be mailed while one of its pieces has not left and is not set aside, lost or came back.
    """
    wanted = " ".join(typed.split()).casefold()
    with sitting.store.reading() as conn:
        theirs = [one for one in orders.all_orders(conn) if wanted and wanted in _names(one)]
        waiting = {
            piece.order_id
            for piece in pieces.of_orders(conn, [one.id for one in theirs])
            if not piece.handed_over and piece.beside is None and piece.together_with is None
        }
    return BuyerOrders(
        tuple(one for one in theirs if one.id not in waiting), tuple(one for one in theirs if one.id in waiting)
    )


def export_buyer(sitting: Sitting, typed: str, file: Path) -> int:
    """Write everything saved about a buyer as a JSON file readable by its owner only; return the number of orders."""
    theirs = orders_of_buyer(sitting, typed).all
    if not theirs:
        raise Refused(f"No order has {typed.strip()!r} as its email, name, phone or number.")
    with sitting.store.reading() as conn:
        content = {"orders": [_all_about(conn, one) for one in theirs]}
    try:
        write_whole(file, (json.dumps(content, indent=2, ensure_ascii=False) + "\n").encode())
    except OSError as fault:
        why = (fault.strerror or str(fault)).lower()
        raise Refused(f"Can't write {file}: {why}. Choose another folder.") from fault
    return len(theirs)


def forget_buyer(sitting: Sitting, typed: str) -> BuyerOrders:
    """Delete name, address and notes of a buyer's mailed orders; return those found. Refused when there is none."""
    theirs = orders_of_buyer(sitting, typed)
    still_here = [one.id for one in theirs.done if not orders.is_forgotten(one.order)]
    if not still_here:
        if theirs.to_mail:
            numbers = ", ".join(one.order.number for one in theirs.to_mail)
            raise Refused(
                f"Still to be mailed: {numbers}. Hand them over or set them aside, then delete the buyer's data."
            )
        raise Refused(f"No order has {typed.strip()!r} as its email, name, phone or number.")
    forget_orders(sitting, still_here)
    return theirs


def _names(one: StoredOrder) -> set[str]:
    address = one.order.address
    texts = (address.recipient, address.company, address.email, address.phone, one.order.number)
    return {" ".join(text.split()).casefold() for text in texts} - {""}


def _all_about(conn: StoreView, one: StoredOrder) -> dict[str, object]:
    ids = [piece.id for piece in pieces.of_orders(conn, [one.id])]
    return {
        "order": to_plain(one.order),
        "pieces": [to_plain(piece) for piece in pieces.some_pieces(conn, ids)],
        "weighings": [
            {"at": at.isoformat(), **to_plain(read)} for number in ids for at, read in weighings.of_piece(conn, number)
        ],
        "papers": [to_plain(paper) for number in ids for paper in papers.all_papers(conn, number)],
        "amounts": [to_plain(row) for row in ledger.of_pieces(conn, ids)],
    }
