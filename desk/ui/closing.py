"""Closing the window: printing runs to its end first, with the window still alive."""

from __future__ import annotations

from collections.abc import Callable

from PySide6.QtCore import QEvent, QObject, QTimer
from PySide6.QtWidgets import QWidget

from desk.ui.jobs import Job

WAITS = "Still printing. The window closes when that's done."


class Closing(QObject):
    """Holds one window open while work runs that has a lasting effect, such as printing."""

    def __init__(self, window: QWidget, tell: Callable[[str], None]) -> None:
        super().__init__(window)
        self._window, self._tell = window, tell
        self._waits = False
        window.installEventFilter(self)

    def eventFilter(self, _watched: QObject, event: QEvent) -> bool:
        if event.type() is QEvent.Type.Close and not self._may_close():
            event.ignore()
            return True
        return False

    def _may_close(self) -> bool:
        """Return whether the window may close now. If not, it closes once the work has ended; a second try closes it."""
        lasting = [job for job in self._window.findChildren(Job) if job.must_report and job.is_running()]
        if not lasting or self._waits:
            return True
        self._waits = True
        self._tell(WAITS)
        for end in (lasting[0].done, lasting[0].failed, lasting[0].stopped):
            end.connect(lambda _result=None: QTimer.singleShot(0, self._again))
        return False

    def _again(self) -> None:
        self._waits = False
        self._window.close()
