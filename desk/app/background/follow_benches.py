"""Follow other benches and runs: their changes, and their open pieces, are shown within a second.

A thread waits for news and posts it to the main thread. While another bench is writing, an act waits up to five
seconds in a thread of its own; the window keeps painting and says why. Keys typed meanwhile are used afterward.
"""

from __future__ import annotations

import threading
import time
from collections.abc import Callable
from concurrent.futures import Future, ThreadPoolExecutor, wait
from typing import Any, TypeVar  # what an act waits for

from PySide6.QtCore import QEventLoop, QObject, Qt, QTimer, Signal
from PySide6.QtWidgets import QApplication

from desk.domain.changes import Changes
from desk.domain.faults import Refused
from desk.domain.severity import Severity
from desk.store.engine import BUSY_SECONDS, NO_ANSWER
from desk.store.following import BenchNews, Follower
from desk.ui.bridge import ALL_OF_IT, Desk, OngoingState
from desk.ui.jobs import Job

T = TypeVar("T")
SERVER, WAITING, TAKEN = "server", "waiting", "taken"
NAP_S = 0.02
LONGEST_S = BUSY_SECONDS + 0.3  # the wait for the write lock ends on its own; a server may not answer at all
SHOWN_AFTER_S = 0.1  # a shorter wait is not mentioned
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
        self._waiter = ThreadPoolExecutor(1, "waits for the other bench")
        self._is_waiting = False
        desk.sitting.store.elsewhere = self._wait_elsewhere
        self._paint_while_waiting(self._paint)
        Job.in_a_step = lambda: self._is_waiting
        self._thread.start()

    def end(self) -> None:
        """Stop following, and remove this bench from the list."""
        self._ends.set()
        self._thread.join(5)
        self._desk.sitting.store.elsewhere = None
        self._paint_while_waiting(None)
        Job.in_a_step = None
        self._waiter.shutdown(wait=False)
        self._follower.leave()

    def _open(self, piece: object) -> None:
        self._follower.open_piece = piece if isinstance(piece, int) else None

    def _run(self) -> None:
        well = True
        while not self._ends.is_set():
            try:
                news = self._follower.news()
                if not well or self._desk.sitting.store.is_unsure:
                    self._desk.sitting.store.ask_again()
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
        if self._ends.is_set() or self._comes_later(lambda: self._hear(news)):
            return
        self._desk.taken = frozenset(news.open_pieces.values())
        self._show_taken()
        if news.changes != Changes():
            self._desk.sitting.announce(news.changes)

    def _show_taken(self) -> None:
        verdicts = self._desk.pile.verdicts
        numbers = [verdicts[piece].case.number for piece in sorted(self._desk.taken) if piece in verdicts]
        words = f"Open at the other bench: {', '.join(numbers)}."
        self._desk.state(TAKEN, OngoingState(words, Severity.NOTE, only_on="Bench") if numbers else None)

    def _say_server(self, sentence: str) -> None:
        """Show that the server is away; once it is back, read everything, since a last step may have been saved.

        When even that can't be read, the desk says so, and the thread asks again.
        """
        if self._ends.is_set() or self._comes_later(lambda: self._say_server(sentence)):
            return
        self._desk.state(SERVER, OngoingState(sentence, Severity.STOP) if sentence else None)
        if not sentence:
            self._desk.sitting.announce(ALL_OF_IT.changes)

    def _comes_later(self, hear: Callable[[], None]) -> bool:
        """Return True while an act waits, and hear the news after it: nothing is read in the middle of a step."""
        if self._is_waiting:
            QTimer.singleShot(round(1000 * NAP_S), self, hear)
        return self._is_waiting

    def _wait_elsewhere(self, take_turn: Callable[[], T]) -> T:
        """Take the write lock in another thread, and keep painting until it is taken; keys wait, timers run.

        Raises Refused while an act waits already: a weight that settles meanwhile stays on the bench.
        """
        if threading.current_thread() is not threading.main_thread():
            return take_turn()
        if self._is_waiting:
            raise Refused("Waiting for the other bench. Try again in a moment.")
        self._is_waiting = True
        try:
            turn = self._waiter.submit(take_turn)
            until = time.monotonic() + LONGEST_S
            wait([turn], SHOWN_AFTER_S)
            while not turn.done() and time.monotonic() < until:
                self._show_waiting()
                QApplication.processEvents(_PAINT)
                wait([turn], NAP_S)
            if turn.done():
                return turn.result()
            turn.add_done_callback(_give_back)
            raise Refused(NO_ANSWER)
        finally:
            self._is_waiting = False

    def _paint_while_waiting(self, paint: Callable[[], None] | None) -> None:
        """Keep painting also while the server is silent in the middle of a step."""
        if self._desk.sitting.store.file is None:
            from desk.store.server import ServerConnection  # the server's library is not needed for a file

            ServerConnection.meanwhile = paint

    def _paint(self) -> None:
        """Paint once; an act that begins meanwhile is refused."""
        before, self._is_waiting = self._is_waiting, True
        try:
            self._show_waiting()
            QApplication.processEvents(_PAINT)
        finally:
            self._is_waiting = before

    def _show_waiting(self) -> None:
        self._waited_at = time.monotonic()
        self._desk.state(WAITING, OngoingState("Waiting for the other bench.", Severity.NOTE))
        if not self._over.isActive():
            self._over.start()

    def _end_waiting(self) -> None:
        if time.monotonic() - self._waited_at > 2 * NAP_S:
            self._over.stop()
            self._desk.state(WAITING, None)


def _give_back(turn: Future[Any]) -> None:
    """Close the connection of an act that was refused before its turn came."""
    if turn.exception() is None:
        turn.result().close()


def follow_others(desk: Desk) -> OtherBenches | None:
    """Follow the other benches of a desk's store; a demo has none."""
    return None if desk.is_demo else OtherBenches(desk)
