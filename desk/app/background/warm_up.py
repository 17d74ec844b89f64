"""Warm up in the background: as soon as there is a piece, rehearse a weighing and read what was weighed before."""

from __future__ import annotations

from PySide6.QtCore import QObject, Slot

from desk.domain.changes import Changes
from desk.session.pile.earlier import latest_weighed
from desk.session.pile.stored_cases import StoredCase
from desk.session.scale.warm_up import warm_up
from desk.ui.bridge import Desk, DeskChanges
from desk.ui.jobs import Job


class WarmUp(QObject):
    """Runs once per desk; its errors are ignored, since nothing is saved."""

    def __init__(self, desk: Desk) -> None:
        super().__init__(desk)
        self._desk = desk
        self._job: Job | None = None
        desk.changed.connect(self._follow)
        desk.closing.connect(self._end)
        self._begin()

    @Slot(object)
    def _follow(self, changes: DeskChanges) -> None:
        if changes.changes.orders:
            self._begin()

    def _begin(self) -> None:
        if self._job is None and not self._desk.pile.is_empty:
            self._job = Job(lambda _progress, _canceled: self._work(), self)
            self._job.done.connect(self._know)
            self._job.start()

    def _work(self) -> list[StoredCase]:
        warm_up(self._desk.sitting)
        return latest_weighed(self._desk.sitting)

    def _know(self, latest: list[StoredCase]) -> None:
        self._desk.pile.know(latest)
        self._desk.changed.emit(DeskChanges(frozenset(), Changes(settings=True)))

    def _end(self) -> None:
        if self._job is not None:
            self._job.wait()
