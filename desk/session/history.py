"""What happened to a piece: the steps of the journal that touched it, newest first."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime

from desk.session.sitting import Sitting
from desk.store import journal


@dataclass(frozen=True, slots=True)
class Past:
    """One step that touched a piece: its name, how it came about (`act`, `undo`, `redo`), and when (UTC)."""

    name: str
    kind: str
    at: datetime


def history_of(sitting: Sitting, piece_id: int, limit: int = 20) -> tuple[Past, ...]:
    """The newest steps that touched the piece, newest first."""
    with sitting.store.reading() as conn:
        found = journal.steps_of_piece(conn, piece_id, limit)
    return tuple(Past(step.name, step.kind.value, step.at) for step in found)
