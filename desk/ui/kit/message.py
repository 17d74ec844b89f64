"""One line for what just happened, with Undo. It covers nothing and disappears after a few seconds."""

from __future__ import annotations

import time

from PySide6.QtCore import QRectF, QSize, Qt, QTimer, Signal
from PySide6.QtGui import QAccessible, QAccessibleAnnouncementEvent, QPainter, QPaintEvent
from PySide6.QtWidgets import QHBoxLayout, QPushButton, QSizePolicy, QWidget

from desk.domain.severity import Severity
from desk.ui.kit import type as typeface
from desk.ui.kit.mark import paint_mark
from desk.ui.kit.palette import sheet_in_force
from desk.ui.kit.plain import PlainLabel

STAYS_MS, STAYS_LONGER_MS = 8000, 20_000  # a refusal needs more time to read
MAKES_WAY_S = 1.0


class MarkDot(QWidget):
    """The mark of a severity as a small widget."""

    def __init__(self, kind: Severity = Severity.FINE) -> None:
        super().__init__()
        self.kind = kind
        self.setSizePolicy(QSizePolicy.Policy.Fixed, QSizePolicy.Policy.Fixed)

    def sizeHint(self) -> QSize:
        side = round(14 * typeface.scale())
        return QSize(side, side)

    def paintEvent(self, _event: QPaintEvent) -> None:
        paint_mark(QPainter(self), self.kind, QRectF(self.rect()), sheet_in_force())


class MessageLine(QWidget):
    """The line at the bottom of the window."""

    undo_asked = Signal()

    def __init__(self) -> None:
        super().__init__()
        self._mark = MarkDot()
        self._words = PlainLabel()
        self._words.setWordWrap(True)
        self._words.setFont(typeface.font(typeface.BODY))
        self._undo = QPushButton("Undo")
        self._undo.setAccessibleName("Undo what just happened")
        self._undo.setFocusPolicy(Qt.FocusPolicy.TabFocus)  # a click leaves the focus where work continues
        self._undo.clicked.connect(self.undo_asked)
        line = QHBoxLayout(self)
        line.setContentsMargins(32, 4, 32, 6)
        line.addWidget(self._mark)
        line.addWidget(self._words, 1)
        line.addWidget(self._undo)
        self._timer = QTimer(self, singleShot=True, interval=STAYS_MS)
        self._timer.timeout.connect(self.clear)
        self._since = 0.0
        self.clear()

    @property
    def words(self) -> str:
        """The words shown now."""
        return self._words.text()

    def say(self, words: str, mark: Severity = Severity.FINE, *, undo: bool = False) -> None:
        """Show a message, and tell a screen reader without moving the focus; without words, clear the line."""
        if not words:
            self.clear()
            return
        self._mark.kind = mark
        self._mark.show()
        self._mark.update()
        self._words.setText(words)
        self._undo.setVisible(undo)
        self._timer.start(STAYS_MS if mark in (Severity.FINE, Severity.NOTE) else STAYS_LONGER_MS)
        self._since = time.monotonic()
        QAccessible.updateAccessibility(QAccessibleAnnouncementEvent(self, words))

    def make_way(self) -> None:
        """Clear an older message after a new act; a message of this moment only loses its Undo."""
        self._undo.hide()
        if time.monotonic() - self._since > MAKES_WAY_S:
            self.clear()

    def clear(self) -> None:
        """Clear the line; it keeps its height, so that nothing jumps."""
        self._timer.stop()
        self._words.setText("")
        self._mark.hide()
        self._undo.hide()
