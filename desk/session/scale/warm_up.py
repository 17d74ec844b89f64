"""Warm up: rehearse a weighing and roll it back, so that the first real one is fast."""

from __future__ import annotations

from decimal import Decimal

from desk.domain.faults import Fault
from desk.domain.orders.piece import Weighing
from desk.domain.weight import Shown, WeightUnit
from desk.session.pile.stored_cases import read_stored
from desk.session.sitting import Sitting
from desk.store.tables import pieces

ANY = Weighing(Shown(Decimal(1), WeightUnit.OUNCE, Decimal("0.1")))


def warm_up(sitting: Sitting) -> bool:
    """Rehearse weighing a piece; return False when there is none, or the store is busy. For any thread."""
    try:
        with sitting.store.reading() as conn:
            piece_id = pieces.first_unpaid(conn)
            if piece_id is None:
                return False
            pieces.number_of(conn, pieces.piece(conn, piece_id))
        sitting.store.rehearse(lambda tx: pieces.record(tx, piece_id, ANY))
        read_stored(sitting, [piece_id])
    except Fault:
        return False
    return True
