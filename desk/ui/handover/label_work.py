"""Background work on bought labels: reading, drawing, saving and printing; some of it may not run twice at once."""

from __future__ import annotations

from collections.abc import Callable

from PySide6.QtCore import QObject, Signal

from desk.ui.jobs import Job, Work


class LabelWork(QObject):
    """Jobs of one page. `changed`: work that must be alone began or ended. `refused`: a sentence for the person."""

    changed = Signal()
    refused = Signal(str)

    def __init__(self, parent: QObject) -> None:
        super().__init__(parent)
        self._jobs: list[Job] = []
        self._alone: Job | None = None

    @property
    def is_free(self) -> bool:
        """Return True when no work that must be alone is running."""
        return self._alone is None

    def start(self, work: Work, done: Callable[..., None], *, must_report: bool = False) -> Job:
        """Start work; `done` gets its result. What `must_report` isn't dropped when the store closes."""
        job = Job(work, self, must_report=must_report)
        self._jobs = [one for one in self._jobs if one.is_running()] + [job]
        job.done.connect(done)
        job.failed.connect(self._fail)
        job.start()
        return job

    def start_alone(self, work: Work, done: Callable[..., None], *, must_report: bool = False) -> None:
        """Start work that must not run twice at once, or labels could be printed twice. A second one is not started."""
        if self._alone is not None:
            return

        def end(result: object) -> None:
            self._alone = None
            self.changed.emit()
            done(result)

        self._alone = self.start(work, end, must_report=must_report)
        self.changed.emit()

    def end(self) -> None:
        """Wait for running jobs, because the store is closing."""
        for job in self._jobs:
            job.end()

    def _fail(self, fault: Exception) -> None:
        """Report what can't be read or was refused; anything else is a bug."""
        if self.sender() is self._alone:
            self._alone = None
            self.changed.emit()
        sentence = getattr(fault, "sentence", "") or (str(fault) if isinstance(fault, ValueError) else "")
        if not sentence:
            raise fault
        self.refused.emit(sentence)
