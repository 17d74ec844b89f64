"""The history of a piece: the journal steps that touched it, newest first."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime

from desk.session.sitting import Sitting
from desk.store import journal


@dataclass(frozen=True, slots=True)
class PieceStep:
    """One step that touched a piece: its name, kind (`act`, `undo`, `redo`), and time (UTC)."""

    name: str
    kind: str
    at: datetime


def history_of(sitting: Sitting, piece_id: int, limit: int = 20) -> tuple[PieceStep, ...]:
    """Return the latest steps that touched the piece, newest first."""
    with sitting.store.reading() as conn:
        steps = journal.steps_of_piece(conn, piece_id, limit)
    return tuple(PieceStep(step.name, step.kind.value, step.at) for step in steps)
