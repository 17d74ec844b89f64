"""Undo and redo the last named step of this bench."""

from __future__ import annotations

from desk.session.sitting import Sitting
from desk.store import undo as steps

OF_THE_BENCH = (  # how the names of steps on one piece, or identical ones, begin
    "Weigh ",
    "Say what ",
    "Copy the weight of ",
    "Answer ",
    "Send by stamp: ",
    "Not by stamp: ",
    "Add piece ",
    "Set aside: 1 piece",
    "Restored: 1 piece",
    "Correct ",
    "Split ",
    "Size of 1 piece",
)


def is_of_the_bench(step: str) -> bool:
    """Return whether a step of that name is done at the bench, on one piece or identical ones."""
    return step.startswith(OF_THE_BENCH) and not step.endswith(" pieces")


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
