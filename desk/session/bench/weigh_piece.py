"""Weigh one piece at the bench: from a settled scale or typed, with what was said about mailer, size and feel."""

from __future__ import annotations

from desk.domain.piece import Weighing
from desk.session.sitting import Sitting
from desk.store import pieces


def weigh_piece(sitting: Sitting, piece_id: int, weighing: Weighing) -> None:
    """Record a weighing for a piece; on disk when this returns. KeyError when there is no such piece."""
    with sitting.store.reading() as conn:
        reference = pieces.piece(conn, piece_id).key.reference
    with sitting.store.act(f"Weigh {reference}") as tx:
        pieces.record(tx, piece_id, weighing)
    sitting.announce(sitting.store.last_changes)
