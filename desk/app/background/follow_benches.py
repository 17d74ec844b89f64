"""Follow other benches and runs: their changes, and their open pieces, are shown within a second.

A thread waits for news and posts it to the main thread. While another bench is writing, an act waits up to five
seconds; the window keeps painting and says why.
"""

from __future__ import annotations

import threading
import time

from PySide6.QtCore import QEventLoop, QObject, Qt, QTimer, Signal
from PySide6.QtWidgets import QApplication

from desk.domain.changes import Changes
from desk.domain.faults import Refused
from desk.domain.severity import Severity
from desk.store.following import BenchNews, Follower
from desk.ui.bridge import Desk, OngoingState

SERVER, WAITING, TAKEN = "server", "waiting", "taken"
NAP_S = 0.02
_PAINT = QEventLoop.ProcessEventsFlag.ExcludeUserInputEvents | QEventLoop.ProcessEventsFlag.ExcludeSocketNotifiers


class OtherBenches(QObject):
    """Brings other benches' changes to one desk until it is closed."""

    _heard = Signal(object)  # Elsewhere
    _failed = Signal(str)  # the sentence; empty when all is well again

    def __init__(self, desk: Desk) -> None:
        super().__init__(desk)
        self._desk = desk
        self._follower = Follower(desk.sitting.store, desk.sitting.clock)
        self._ends = threading.Event()
        self._waited_at = 0.0
        self._over = QTimer(self, interval=round(4000 * NAP_S))
        self._over.timeout.connect(self._end_waiting)
        self._thread = threading.Thread(target=self._run, name="other benches", daemon=True)
        self._heard.connect(self._hear, Qt.ConnectionType.QueuedConnection)
        self._failed.connect(self._say_server, Qt.ConnectionType.QueuedConnection)
        desk.piece_on_bench.connect(self._open)
        desk.closing.connect(self.end)
        desk.sitting.store.waiting = self._wait_painting
        self._thread.start()

    def end(self) -> None:
        """Stop following, and remove this bench from the list."""
        self._ends.set()
        self._thread.join(5)
        self._desk.sitting.store.waiting = None
        self._follower.leave()

    def _open(self, piece: object) -> None:
        self._follower.open_piece = piece if isinstance(piece, int) else None

    def _run(self) -> None:
        well = True
        while not self._ends.is_set():
            try:
                news = self._follower.news()
                if not well:
                    well = True
                    self._failed.emit("")
                if news is not None and not self._ends.is_set():
                    self._heard.emit(news)
            except Refused as refused:
                if well and not self._ends.is_set():
                    well = False
                    self._failed.emit(refused.sentence)
                time.sleep(NAP_S)
            except RuntimeError:  # the window is gone
                return

    def _hear(self, news: BenchNews) -> None:
        if self._ends.is_set():
            return
        self._desk.taken = frozenset(news.open_pieces.values())
        self._show_taken()
        if news.changes != Changes():
            self._desk.sitting.announce(news.changes)

    def _show_taken(self) -> None:
        verdicts = self._desk.pile.verdicts
        numbers = [verdicts[piece].case.key.reference for piece in sorted(self._desk.taken) if piece in verdicts]
        words = f"Open at the other bench: {', '.join(numbers)}."
        self._desk.state(TAKEN, OngoingState(words, Severity.NOTE, only_on="Bench") if numbers else None)

    def _say_server(self, sentence: str) -> None:
        self._desk.state(SERVER, OngoingState(sentence, Severity.STOP) if sentence else None)

    def _wait_painting(self) -> None:
        """Keep painting while another bench writes; called repeatedly. Keys wait, timers run."""
        if threading.current_thread() is not threading.main_thread():
            time.sleep(NAP_S)
            return
        self._waited_at = time.monotonic()
        self._desk.state(WAITING, OngoingState("Waiting for the other bench.", Severity.NOTE))
        self._over.start()
        QApplication.processEvents(_PAINT)
        time.sleep(NAP_S)

    def _end_waiting(self) -> None:
        if time.monotonic() - self._waited_at > 2 * NAP_S:
            self._over.stop()
            self._desk.state(WAITING, None)


def follow_others(desk: Desk) -> OtherBenches | None:
    """Follow the other benches of a desk's store; a demo has none."""
    return None if desk.is_demo else OtherBenches(desk)
