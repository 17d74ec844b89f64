"""Words that can be pressed: the line of screens at the top, and jumps to what is left to do."""

from __future__ import annotations

from collections.abc import Callable, Sequence

from PySide6.QtCore import QRect, QSize, Qt, Signal
from PySide6.QtGui import QFontMetrics, QPainter, QPaintEvent
from PySide6.QtWidgets import QAbstractButton, QHBoxLayout, QSizePolicy, QWidget

from desk.ui.kit import type as typeface
from desk.ui.kit.palette import sheet_in_force


class Word(QAbstractButton):
    """A word without a frame. Checked: bold, with a line below it. Focus is shown by a frame of hairs."""

    def __init__(self, words: str, size: int, *, jump: bool = False) -> None:
        super().__init__()
        self.setText(words)
        self.setAccessibleName(words)
        self.setCursor(Qt.CursorShape.PointingHandCursor)
        self.setSizePolicy(QSizePolicy.Policy.Fixed, QSizePolicy.Policy.Fixed)
        self._size, self._jump = size, jump

    def sizeHint(self) -> QSize:
        metrics_font = typeface.font(self._size, bold=True)
        self.ensurePolished()
        metrics = QFontMetrics(metrics_font)
        return QSize(metrics.horizontalAdvance(self.text()) + 12, max(32, metrics.height() + 14))

    def paintEvent(self, _event: QPaintEvent) -> None:
        painter, sheet = QPainter(self), sheet_in_force()
        bold = self._jump or self.isChecked()
        painter.setFont(typeface.font(self._size, bold=bold))
        role = "teal" if self._jump else "ink" if self.isChecked() or self.underMouse() else "soft_ink"
        painter.setPen(sheet.colour(role))
        painter.drawText(self.rect().adjusted(6, 0, -6, -3), Qt.AlignmentFlag.AlignCenter, self.text())
        if self.isChecked():
            painter.fillRect(QRect(6, self.height() - 3, self.width() - 12, 3), sheet.colour("teal"))
        if self.hasFocus():
            painter.setPen(sheet.colour("teal"))
            painter.drawRoundedRect(self.rect().adjusted(0, 0, -1, -4), 4, 4)


class LineOfWords(QWidget):
    """The screens in one line, and at its right what is left to do."""

    chosen = Signal(str)

    def __init__(self, words: Sequence[str]) -> None:
        super().__init__()
        self._line = QHBoxLayout(self)
        self._line.setContentsMargins(26, 8, 26, 0)
        self._line.setSpacing(8)
        self._words = {word: self._add_word(word) for word in words}
        self._line.addStretch(1)
        self._jumps: list[Word] = []

    def mark(self, word: str) -> None:
        """Show which screen is open."""
        for title, button in self._words.items():
            button.setChecked(title == word)

    def show_jumps(self, jumps: Sequence[tuple[str, Callable[[], None]]]) -> None:
        """Show these phrases at the right, each with what it does when pressed."""
        if [button.text() for button in self._jumps] == [words for words, _ in jumps]:
            return  # the same phrases do the same; a focus on one of them stays
        for button in self._jumps:
            self._line.removeWidget(button)
            button.deleteLater()
        self._jumps = [self._add_jump(words, go) for words, go in jumps]

    def paintEvent(self, _event: QPaintEvent) -> None:
        painter = QPainter(self)
        painter.fillRect(QRect(32, self.height() - 1, self.width() - 64, 1), sheet_in_force().colour("hairline"))

    def _add_word(self, title: str) -> Word:
        button = Word(title, typeface.STRONG)
        button.setCheckable(True)
        button.clicked.connect(lambda: self._choose(title))
        self._line.addWidget(button)
        return button

    def _add_jump(self, words: str, go: Callable[[], None]) -> Word:
        button = Word(words, typeface.BODY, jump=True)
        button.clicked.connect(lambda _checked=False: go())
        self._line.addWidget(button)
        return button

    def _choose(self, title: str) -> None:
        self.mark(title)
        self.chosen.emit(title)
