"""Long work in the background: it only reads, reports progress, can be canceled, and returns its result.

The work runs in its own thread and writes nothing; its result goes to an act in the main thread. A screen may be gone
before its work has ended: then the work sees that it was canceled, and nobody hears of it.
"""

from __future__ import annotations

import threading
from collections.abc import Callable
from contextlib import suppress

from PySide6.QtCore import QObject, Qt, Signal

Progress = Callable[[int, int], None]  # done, of how many (0: unknown)
Canceled = Callable[[], bool]
Work = Callable[[Progress, Canceled], object]


class Job(QObject):
    """One job in a thread. Exactly one of `done`, `failed` and `stopped` is emitted, in the main thread."""

    advanced = Signal(int, int)
    done = Signal(object)
    failed = Signal(object)  # the exception
    stopped = Signal()  # it was canceled
    _ended = Signal(object, object)

    def __init__(self, work: Work, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self._work: Work | None = work
        self._cancel = threading.Event()
        self._thread = threading.Thread(target=self._run, name="job", daemon=True)
        self._ended.connect(self._end, Qt.ConnectionType.QueuedConnection)

    def start(self) -> None:
        """Start; returns immediately."""
        self._thread.start()

    def cancel(self) -> None:
        """Ask the work to end soon; `stopped` follows."""
        self._cancel.set()

    def is_running(self) -> bool:
        """Return True while the thread works."""
        return self._thread.is_alive()

    def wait(self, seconds: float = 5.0) -> None:
        """Wait until the thread has ended."""
        if self._thread.is_alive():
            self._thread.join(seconds)

    def _run(self) -> None:
        work, self._work = self._work, None  # it may hold a whole batch, and a job lives as long as its screen
        assert work is not None
        cancel = self._cancel
        result: object = None
        failure: Exception | None = None
        try:
            result = work(self._advance, cancel.is_set)
        except Exception as error:  # noqa: BLE001 - handed to the main thread, where it is shown or reported
            failure = error
        with suppress(RuntimeError):  # the screen and this job with it are gone
            self._ended.emit(result, failure)

    def _advance(self, done: int, of: int) -> None:
        """Report progress; cancel the work when nobody is left to hear it."""
        try:
            self.advanced.emit(done, of)
        except RuntimeError:  # the screen and this job with it are gone
            self._cancel.set()

    def _end(self, result: object, error: object) -> None:
        if self._cancel.is_set():
            self.stopped.emit()
        elif error is not None:
            self.failed.emit(error)
        else:
            self.done.emit(result)
