"""Judge a large pile again between two events, after a change that concerns every piece."""

from __future__ import annotations

import time
from typing import TYPE_CHECKING

from PySide6.QtCore import QObject, QTimer, Signal

from desk.domain.changes import Changes
from desk.domain.faults import Refused

if TYPE_CHECKING:  # the session is only imported after the first paint
    from desk.session.pile.pile import Pile

SHOWN_AFTER_S, STEPS = 0.5, 10  # a shorter wait needs no strip, and a strip counts up in so many steps


class Rereading(QObject):
    """Reads one pile on, a part in each turn of the event loop."""

    ended = Signal(object, object)  # ids of pieces whose verdict changed, and the changes that caused it
    failed = Signal()  # it can't be read now
    progressed = Signal(int)  # percent; 100 at the end

    def __init__(self, pile: Pile, parent: QObject) -> None:
        super().__init__(parent)
        self._pile = pile
        pile.reads_in_parts = True
        self._causes = Changes()
        self._began = 0.0
        self._step = 0
        self._timer = QTimer(self, interval=0)
        self._timer.timeout.connect(self._go_on)

    def begin(self, causes: Changes) -> None:
        """Read on after these changes, until everything is read."""
        self._causes |= causes
        self._began, self._step = time.monotonic(), 0
        self._timer.start()

    def stop(self) -> None:
        """Read no more."""
        self._timer.stop()

    def _go_on(self) -> None:
        try:
            changed = self._pile.read_on()
        except Refused:  # the server is away; once it is back, everything is read again
            self.stop()
            self.progressed.emit(100)
            self.failed.emit()
            return
        if changed is None and self._pile.progress is not None:
            self._show()
            return
        self.stop()
        causes, self._causes = self._causes, Changes()
        self.progressed.emit(100)
        self.ended.emit(changed or frozenset(), causes)  # nothing more where all was read at once meanwhile

    def _show(self) -> None:
        done, of = self._pile.progress or (0, 1)
        step = STEPS * done // of
        if step > self._step and time.monotonic() - self._began >= SHOWN_AFTER_S:
            self._step = step
            self.progressed.emit(min(99, 100 * done // of))
