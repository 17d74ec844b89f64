"""Make the rows of changed pieces: a few at once, many between two events."""

from __future__ import annotations

from PySide6.QtCore import QObject, QTimer, Signal

from desk.ui.batch.pieces.model import BatchModel
from desk.ui.bridge import Desk

AT_ONCE = PART = 300  # rows made at once, and in a turn where there are more: about 10 ms


class RowMaker(QObject):
    """Makes rows for one model. `ready`: ids of pieces to show, with all their rows made."""

    ready = Signal(object)

    def __init__(self, desk: Desk, model: BatchModel, parent: QObject) -> None:
        super().__init__(parent)
        self._desk, self._model = desk, model
        self._due: list[int] = []
        self._asked: frozenset[int] = frozenset()
        self._timer = QTimer(self, interval=0)
        self._timer.timeout.connect(self.make_some)

    @property
    def is_busy(self) -> bool:
        """True while rows are still to be made."""
        return self._timer.isActive()

    def ask(self, pieces: frozenset[int]) -> None:
        """Make the rows of these pieces, and of all others that are outdated."""
        pile = self._desk.pile
        self._asked |= pieces
        self._due = self._model.outdated(pile.verdicts, self._asked, pile.terms.on)
        if len(self._due) <= AT_ONCE:
            self._show()
        else:
            self._timer.start()

    def make_some(self) -> None:
        """Make some of the rows that are due."""
        pile = self._desk.pile
        some, self._due = self._due[:PART], self._due[PART:]
        self._model.prepare(pile.verdicts, some, pile.terms.on)
        if not self._due:
            self._show()

    def _show(self) -> None:
        self._timer.stop()
        asked, self._asked = self._asked, frozenset()
        self.ready.emit(asked)
