"""Undo and redo the last named step of this bench."""

from __future__ import annotations

from desk.session.sitting import Sitting
from desk.store import undo as steps

OF_THE_BENCH = (  # how steps begin that are done with one piece in hand, or with those alike
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
    """Whether a step of that name is one of those done at the bench, and not a list, a shop or a whole pile."""
    return step.startswith(OF_THE_BENCH) and not step.endswith(" pieces")


def undo(sitting: Sitting) -> str:
    """Undo the last step; its name. Refused in a sentence when there is none, or when a row has moved on."""
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
