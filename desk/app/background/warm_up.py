"""Warm up in the background: as soon as there is a piece, rehearse a weighing in a thread."""

from __future__ import annotations

from PySide6.QtCore import QObject, Slot

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
    def _follow(self, told: DeskChanges) -> None:
        if told.changes.orders:
            self._begin()

    def _begin(self) -> None:
        if self._job is None and self._desk.pile.verdicts:
            self._job = Job(lambda _progress, _canceled: warm_up(self._desk.sitting), self)
            self._job.start()

    def _end(self) -> None:
        if self._job is not None:
            self._job.wait()
