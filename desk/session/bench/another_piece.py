"""Add a piece to an order that ships in several packages, when its number is typed."""

from __future__ import annotations

from desk.domain.orders.piece import PieceKey
from desk.session.sitting import Sitting
from desk.store.tables import pieces


def add_piece(sitting: Sitting, key: PieceKey) -> int | None:
    """Add that piece to a known order and return its id; None when the order is unknown."""
    with sitting.store.act(f"Piece {key.reference} added", at_bench=True) as tx:
        made = pieces.ensure_pieces(tx, [key])
    sitting.announce(sitting.store.last_changes)
    return made.get(key)


def next_piece_key(number: str, known: frozenset[PieceKey]) -> PieceKey | None:
    """Return the key for a number such as `1066-2` when it is the next piece of a known order; else None."""
    order, dash, last = number.strip().removeprefix("#").rpartition("-")
    if not dash or not last.isascii() or not last.isdigit():
        return None
    in_order = [key.piece for key in known if key.order == order]
    return PieceKey(order, int(last)) if in_order and int(last) == max(in_order) + 1 else None
