"""Work that a closed program did not finish: recorded when it begins, reported at the next start."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from contextlib import contextmanager, suppress
from dataclasses import dataclass, field
from datetime import datetime
from enum import StrEnum

from desk.domain.faults import Refused
from desk.session.sitting import Sitting
from desk.store import journal
from desk.store import unfinished as marks
from desk.store.journal import Step, StepKind
from desk.store.times import to_utc_text


class WorkKind(StrEnum):
    """Work that leaves the program, or takes long enough to be cut off."""

    PRINTING = "printing"
    IMPORTING = "importing"


@dataclass(frozen=True, slots=True)
class LastSession:
    """What the last window of this bench left. `last_step` is the name of its last saved step, empty for none.

    `unfinished` names what was being printed or imported. `runs` are headless runs that have not ended, by their files,
    with the moment they began; one may still be going.
    """

    was_cut_off: bool = False
    last_step: str = ""
    unfinished: Mapping[WorkKind, str] = field(default_factory=dict, hash=False)
    runs: Mapping[str, datetime] = field(default_factory=dict, hash=False)


def begin(sitting: Sitting, kind: WorkKind, what: str) -> None:
    """Record that work begins. It begins all the same when the data is busy."""
    with suppress(Refused):
        marks.begin(sitting.store, kind, what)


def end(sitting: Sitting, kind: WorkKind) -> None:
    """Record that work has ended, successfully or not, and that its result was shown."""
    with suppress(Refused):
        marks.end(sitting.store, kind)


@contextmanager
def run_noted(sitting: Sitting, what: str) -> Iterator[None]:
    """Record a headless run over these files until it ends; one that is killed stays recorded."""
    with suppress(Refused):
        marks.begin_run(sitting.store, what, to_utc_text(sitting.clock.now()))
    try:
        yield
    finally:
        with suppress(Refused):
            marks.end_run(sitting.store, what)


def last_session(sitting: Sitting) -> LastSession:
    """Return what the last window of this bench left; ask before this window works or follows other benches."""
    store = sitting.store
    with store.reading() as conn:
        step = journal.newest_of(conn, store.bench)
        begun = {WorkKind(kind): what for kind, what in marks.begun(conn, store).items()}
        runs = {what: datetime.fromisoformat(at) for what, at in marks.runs(conn).items()}
        return LastSession(marks.was_cut_off(conn, store.bench), _done(step) if step else "", begun, runs)


def _done(step: Step) -> str:
    return {StepKind.UNDO: "Undone: ", StepKind.REDO: "Redone: "}.get(step.kind, "") + step.name


def dismiss(sitting: Sitting) -> None:
    """Forget what was left unfinished."""
    for kind in WorkKind:
        end(sitting, kind)
    for what in last_session(sitting).runs:
        with suppress(Refused):
            marks.end_run(sitting.store, what)
