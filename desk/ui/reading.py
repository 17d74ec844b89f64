"""Read one file in the background for a panel: what was read is shown when it comes, and a newer reading replaces it."""

from __future__ import annotations

from collections.abc import Callable
from functools import partial
from typing import TypeVar

from PySide6.QtCore import QObject

from desk.domain.faults import FileFault, Unreadable
from desk.ui.bridge import Desk
from desk.ui.jobs import Job

T = TypeVar("T")


class FileReading(QObject):
    """At most one reading at a time; it ends with its panel or when the desk closes."""

    def __init__(self, desk: Desk, parent: QObject) -> None:
        super().__init__(parent)
        self._job: Job | None = None
        desk.closing.connect(self.stop)

    @property
    def is_busy(self) -> bool:
        """True until the last reading was shown or dropped."""
        return self._job is not None

    def read(
        self,
        work: Callable[[], T],
        show: Callable[[T], None],
        fail: Callable[[tuple[FileFault, ...]], None] | None = None,
    ) -> None:
        """Do the work in a thread, then show its result, or the faults of a file that can't be read.

        Any other error, and faults without `fail`, are raised in the main thread.
        """
        self.drop()
        job = self._job = Job(lambda _progress, _canceled: work(), self)
        job.done.connect(partial(self._show, job, show))
        job.failed.connect(partial(self._fail, job, fail))
        job.start()

    def stop(self) -> None:
        """Drop the reading, and wait for its thread; nothing is shown."""
        job = self._job
        self.drop()
        if job is not None:
            job.end()

    def drop(self) -> None:
        """Let a reading end unseen, without waiting for it."""
        if self._job is not None:
            self._job.cancel()
            self._job = None

    def _show(self, job: Job, show: Callable[[T], None], result: T) -> None:
        if job is self._job:
            self._job = None
            show(result)

    def _fail(self, job: Job, fail: Callable[[tuple[FileFault, ...]], None] | None, error: Exception) -> None:
        if job is not self._job:
            return
        self._job = None
        if fail is None or not isinstance(error, Unreadable):
            raise error
        fail(tuple(error.faults))
