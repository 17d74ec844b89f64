"""One line for what happened, with a way to take it back. It covers nothing and goes away by itself."""

from __future__ import annotations

from PySide6.QtCore import QRectF, QSize, QTimer, Signal
from PySide6.QtGui import QAccessible, QAccessibleAnnouncementEvent, QPainter, QPaintEvent
from PySide6.QtWidgets import QHBoxLayout, QPushButton, QSizePolicy, QWidget

from desk.ui.kit import type as typeface
from desk.ui.kit.mark import paint_mark
from desk.ui.kit.palette import sheet_in_force
from desk.ui.kit.plain import PlainLabel

STAYS_MS = 8000


class MarkDot(QWidget):
    """The mark of a severity as a small picture of its own."""

    def __init__(self, kind: str = "fine") -> None:
        super().__init__()
        self.kind = kind
        self.setSizePolicy(QSizePolicy.Policy.Fixed, QSizePolicy.Policy.Fixed)

    def sizeHint(self) -> QSize:
        side = round(14 * typeface.scale())
        return QSize(side, side)

    def paintEvent(self, _event: QPaintEvent) -> None:
        paint_mark(QPainter(self), self.kind, QRectF(self.rect()), sheet_in_force())


class MessageLine(QWidget):
    """The line at the foot of the window. A refusal stays until something else happens."""

    undo_asked = Signal()

    def __init__(self) -> None:
        super().__init__()
        self._mark = MarkDot()
        self._words = PlainLabel()
        self._words.setWordWrap(True)
        self._words.setFont(typeface.font(typeface.BODY))
        self._undo = QPushButton("Undo")
        self._undo.setAccessibleName("Undo what just happened")
        self._undo.clicked.connect(self.undo_asked)
        line = QHBoxLayout(self)
        line.setContentsMargins(32, 4, 32, 6)
        line.addWidget(self._mark)
        line.addWidget(self._words, 1)
        line.addWidget(self._undo)
        self._timer = QTimer(self, singleShot=True, interval=STAYS_MS)
        self._timer.timeout.connect(self.clear)
        self.clear()

    @property
    def words(self) -> str:
        """What stands there now."""
        return self._words.text()

    def say(self, words: str, mark: str = "fine", *, undo: bool = False) -> None:
        """Show a message, and tell a screen reader without moving the focus."""
        self._mark.kind = mark
        self._mark.show()
        self._mark.update()
        self._words.setText(words)
        self._undo.setVisible(undo)
        self._timer.stop()
        if mark in ("fine", "note"):
            self._timer.start()
        QAccessible.updateAccessibility(QAccessibleAnnouncementEvent(self, words))

    def withdraw_undo(self) -> None:
        """Something was done since: the way back would take that back, and not what the words say."""
        self._undo.hide()

    def clear(self) -> None:
        """Nothing to say; the line keeps its height, so that nothing jumps."""
        self._words.setText("")
        self._mark.hide()
        self._undo.hide()
