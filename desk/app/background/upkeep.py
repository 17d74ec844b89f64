"""Automatic care for the data: a copy on start and every hour of work, and deleting old addresses."""

from __future__ import annotations

from PySide6.QtCore import QObject, QTimer

from desk.domain.faults import Fault
from desk.domain.severity import Severity
from desk.session.setup.copies import copy_for_the_hour
from desk.session.setup.forgetting import forget_due
from desk.session.words.figures import counted
from desk.ui.bridge import Desk, Event, OngoingState
from desk.ui.jobs import Job
from desk.ui.kit.kept_choice import unread_choices

FIRST_MS, HOUR_MS = 4_000, 3_600_000
STRIP, UNREAD = "copy", "unread settings"


class Keeping(QObject):
    """Copies one desk's data in the background, and deletes addresses that are due; a demo needs neither."""

    def __init__(self, desk: Desk, first_ms: int = FIRST_MS) -> None:
        super().__init__(desk)
        self._desk = desk
        self._job: Job | None = None
        self._copied = -1  # the revision that was copied last
        self._hours = QTimer(self, interval=HOUR_MS)
        self._hours.timeout.connect(self.copy)
        self._first = QTimer(self, interval=first_ms, singleShot=True)
        self._first.timeout.connect(self._begin)
        desk.closing.connect(self._end)
        desk.changed.connect(self._show_unread)
        if not desk.is_demo:
            self._first.start()

    def _begin(self) -> None:
        count = self._desk.do_quietly(forget_due)
        if count:
            words = f"Deleted {counted(count, 'old address', 'old addresses')}. Setup > Data sets after how many days."
            self._desk.happened.emit(Event(words, Severity.NOTE))
        self._show_unread()
        self.copy()
        self._hours.start()

    def _show_unread(self, _changes: object = None) -> None:
        """Show which settings can't be read while their defaults are in use."""
        names = (*sorted(self._desk.sitting.store.unread_settings), *unread_choices())
        words = f"Can't read these settings, so the usual ones are used: {', '.join(names)}. Set them again in Setup."
        self._desk.state(UNREAD, OngoingState(words, Severity.STOP) if names else None)

    def copy(self) -> None:
        """Make a copy in the background, unless nothing changed since the last one."""
        sitting = self._desk.sitting
        if self._job is not None or sitting.store.file is None or sitting.store.revision == self._copied:
            return
        revision = sitting.store.revision
        self._job = Job(lambda _progress, _canceled: copy_for_the_hour(sitting), self)
        self._job.done.connect(lambda _copy: self._done(revision))
        self._job.failed.connect(self._failed)
        self._job.start()

    def _done(self, revision: int) -> None:
        self._job, self._copied = None, revision
        self._desk.state(STRIP, None)

    def _failed(self, error: Exception) -> None:
        self._job = None
        if not isinstance(error, Fault):
            raise error
        again = (("Try again", self.copy),)
        self._desk.state(
            STRIP, OngoingState(f"Your data could not be backed up: {error.sentence}", Severity.STOP, again)
        )

    def _end(self) -> None:
        self._first.stop()
        self._hours.stop()
        if self._job is not None:
            self._job.cancel()
            self._job.wait()
