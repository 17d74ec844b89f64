"""Work that a closed program did not finish: recorded when it begins, reported at the next start."""

from __future__ import annotations

from collections.abc import Mapping
from contextlib import suppress
from dataclasses import dataclass, field
from enum import StrEnum

from desk.domain.faults import Refused
from desk.session.sitting import Sitting
from desk.store import journal
from desk.store import unfinished as marks
from desk.store.journal import Step, StepKind


class WorkKind(StrEnum):
    """Work that leaves the program, or takes long enough to be cut off."""

    PRINTING = "printing"
    IMPORTING = "importing"


@dataclass(frozen=True, slots=True)
class LastSession:
    """What the last window of this bench left. `last_step` is the name of its last saved step, empty for none.

    `unfinished` names what was being printed or imported.
    """

    was_cut_off: bool = False
    last_step: str = ""
    unfinished: Mapping[WorkKind, str] = field(default_factory=dict, hash=False)


def begin(sitting: Sitting, kind: WorkKind, what: str) -> None:
    """Record that work begins. It begins all the same when the data is busy."""
    with suppress(Refused):
        marks.begin(sitting.store, kind, what)


def end(sitting: Sitting, kind: WorkKind) -> None:
    """Record that work has ended, successfully or not, and that the person was told."""
    with suppress(Refused):
        marks.end(sitting.store, kind)


def last_session(sitting: Sitting) -> LastSession:
    """Return what the last window of this bench left; ask before this window works or follows other benches."""
    store = sitting.store
    with store.reading() as conn:
        step = journal.newest_of(conn, store.bench)
        begun = {WorkKind(kind): what for kind, what in marks.begun(conn, store).items()}
        return LastSession(marks.was_cut_off(conn, store.bench), _done(step) if step else "", begun)


def _done(step: Step) -> str:
    return {StepKind.UNDO: "Undone: ", StepKind.REDO: "Redone: "}.get(step.kind, "") + step.name


def dismiss(sitting: Sitting) -> None:
    """Forget what was left unfinished."""
    for kind in WorkKind:
        end(sitting, kind)
