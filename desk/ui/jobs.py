"""Long work in the background: it only reads, reports progress, can be canceled, and returns its result.

The work runs in its own thread and writes nothing; its result goes to an act in the main thread. A screen may be gone
before its work has ended: then the work sees that it was canceled, and its result is dropped. While a step waits for
the store, and the window only paints, results wait too.
"""

from __future__ import annotations

import threading
from collections.abc import Callable
from contextlib import suppress
from typing import ClassVar

from PySide6.QtCore import QObject, Qt, QTimer, Signal

Progress = Callable[[int, int], None]  # done, of how many (0: unknown)
Canceled = Callable[[], bool]
Work = Callable[[Progress, Canceled], object]
AGAIN_MS = 20  # a result that waits for a step looks again
LONGEST_S = 30.0  # a printer's queue answers in seconds, or its commands are given up


class Job(QObject):
    """One job in a thread. Exactly one of `done`, `failed` and `stopped` is emitted, in the main thread."""

    advanced = Signal(int, int)
    done = Signal(object)
    failed = Signal(object)  # the exception
    stopped = Signal()  # it was canceled
    in_a_step: ClassVar[Callable[[], bool] | None] = None  # whether a step waits now; a window sets it
    _ended = Signal()

    def __init__(self, work: Work, parent: QObject | None = None, *, must_report: bool = False) -> None:
        super().__init__(parent)
        self.must_report = must_report  # it has a lasting effect outside, such as printing
        self._work: Work | None = work
        self._cancel = threading.Event()
        self._thread = threading.Thread(target=self._run, name="job", daemon=True)
        self._result: tuple[object, Exception | None] | None = None
        self._is_reported = False
        self._ended.connect(self._end, Qt.ConnectionType.QueuedConnection)

    def start(self) -> None:
        """Start; returns immediately."""
        self._thread.start()

    def cancel(self) -> None:
        """Ask the work to end soon; `stopped` follows."""
        self._cancel.set()

    def is_running(self) -> bool:
        """Return True while the thread works and its result was not reported yet."""
        return self._thread.is_alive() and not self._is_reported

    def wait(self, seconds: float = 5.0) -> None:
        """Wait until the thread has ended."""
        if self._thread.is_alive():
            self._thread.join(seconds)

    def end(self) -> None:
        """Cancel and wait. Work with a lasting effect runs to its end instead, and its result is reported now."""
        if not self.must_report:
            self.cancel()
            self.wait()
            return
        self.wait(LONGEST_S)
        self._report()

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
        self._result = result, failure
        with suppress(RuntimeError):  # the screen and this job with it are gone
            self._ended.emit()

    def _advance(self, done: int, of: int) -> None:
        """Report progress; cancel the work when the window is gone."""
        try:
            self.advanced.emit(done, of)
        except RuntimeError:  # the screen and this job with it are gone
            self._cancel.set()

    def _end(self) -> None:
        if Job.in_a_step is not None and Job.in_a_step():
            QTimer.singleShot(AGAIN_MS, self, self._end)
        else:
            self._report()

    def _report(self) -> None:
        if self._is_reported or self._result is None:
            return
        self._is_reported = True
        result, error = self._result
        self._result = None  # it may be large, and a job lives as long as its screen
        if self._cancel.is_set():
            self.stopped.emit()
        elif error is not None:
            self.failed.emit(error)
        else:
            self.done.emit(result)
