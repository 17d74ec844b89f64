"""Say on the bench when mailers, inserts or labels are not enough for the packages that wait."""

from __future__ import annotations

from PySide6.QtCore import QObject, QTimer

from desk.domain.faults import Refused
from desk.domain.severity import Severity
from desk.session.money.low_stock import running_out, running_out_words
from desk.ui.bridge import Desk, OngoingState

STRIP, PAUSE_MS = "low stock", 3_000  # counted when nothing changed for so long, so that weighing never waits for it


class LowStock(QObject):
    """Keeps one strip up to date."""

    def __init__(self, desk: Desk, pause_ms: int = PAUSE_MS) -> None:
        super().__init__(desk)
        self._desk = desk
        self._timer = QTimer(self, interval=pause_ms, singleShot=True)
        self._timer.timeout.connect(self.count)
        desk.changed.connect(lambda _changes: self._timer.start())
        desk.closing.connect(self._timer.stop)
        self._timer.start()

    def count(self) -> None:
        """Show or remove the strip; while the server is away, leave it as it is."""
        try:
            words = running_out_words(running_out(self._desk.sitting, self._desk.pile))
        except Refused:
            return
        way = ("Open stock", lambda: self._desk.screen_asked.emit("Costs", "Stock"))
        state = OngoingState(words, Severity.LOOK, (way,), only_on="Bench", is_small=True)
        self._desk.state(STRIP, state if words else None)
