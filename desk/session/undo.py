"""Undo and redo the last named step of this bench."""

from __future__ import annotations

from desk.session.sitting import Sitting
from desk.store import undo as steps


def is_last_at_bench(sitting: Sitting) -> bool:
    """Return True when the step that undo would take back was done at the bench, not to a list, a shop or a pile."""
    with sitting.store.reading() as conn:
        last = steps.next_undo(conn, sitting.store.bench)
    return last is not None and last.is_at_bench


def undo(sitting: Sitting) -> str:
    """Undo the last step and return its name. Refused when there is none, or when a row has changed since."""
    step = steps.undo(sitting.store)
    sitting.announce(sitting.store.last_changes)
    return step.name


def redo(sitting: Sitting) -> str:
    """Redo the step undone last and return its name."""
    step = steps.redo(sitting.store)
    sitting.announce(sitting.store.last_changes)
    return step.name


def next_steps(sitting: Sitting) -> tuple[str, str]:
    """Return the names of the next undo and redo steps; empty when there is none."""
    with sitting.store.reading() as conn:
        back, again = steps.next_undo(conn, sitting.store.bench), steps.next_redo(conn, sitting.store.bench)
    return (back.name if back else "", again.name if again else "")
