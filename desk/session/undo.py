"""Undo and redo the last named step of this bench."""

from __future__ import annotations

from desk.session.sitting import Sitting
from desk.store import undo as steps


def undo(sitting: Sitting) -> str:
    """Take the last step back; its name. Refused in a sentence when there is none, or when a row has moved on."""
    step = steps.undo(sitting.store)
    sitting.announce(sitting.store.last_changes)
    return step.name


def redo(sitting: Sitting) -> str:
    """Do the step again that was taken back last; its name."""
    step = steps.redo(sitting.store)
    sitting.announce(sitting.store.last_changes)
    return step.name


def next_steps(sitting: Sitting) -> tuple[str, str]:
    """The names of the step that undo would take back and of the one redo would do again; empty when there is none."""
    with sitting.store.reading() as conn:
        back, again = steps.next_undo(conn, sitting.store.bench), steps.next_redo(conn, sitting.store.bench)
    return (back.name if back else "", again.name if again else "")
