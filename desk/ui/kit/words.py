"""Words that can be pressed: the line of screens at the top, and jumps to what is left to do."""

from __future__ import annotations

from collections.abc import Callable, Sequence

from PySide6.QtCore import QMargins, QRect, QSize, Qt, Signal
from PySide6.QtGui import QFontMetrics, QPainter, QPaintEvent
from PySide6.QtWidgets import QAbstractButton, QSizePolicy, QWidget

from desk.ui.kit import type as typeface
from desk.ui.kit.palette import sheet_in_force
from desk.ui.kit.plain import PlainLabel
from desk.ui.kit.wrapping import FlowLayout


class Word(QAbstractButton):
    """A button without a frame. Checked: bold and underlined. Focus is shown by a thin frame."""

    def __init__(self, words: str, size: int, *, jump: bool = False) -> None:
        super().__init__()
        self.say(words)
        self.setCursor(Qt.CursorShape.PointingHandCursor)
        self.setFocusPolicy(Qt.FocusPolicy.TabFocus)  # a click leaves the focus where work continues
        self.setSizePolicy(QSizePolicy.Policy.Fixed, QSizePolicy.Policy.Fixed)
        self._size, self._jump = size, jump

    def say(self, words: str) -> None:
        """Show these words."""
        self.setText(words)
        self.setAccessibleName(words)
        self.updateGeometry()

    def sizeHint(self) -> QSize:
        metrics = QFontMetrics(typeface.font(self._size, bold=True))
        return QSize(metrics.horizontalAdvance(self.text()) + 12, max(32, metrics.height() + 14))

    def paintEvent(self, _event: QPaintEvent) -> None:
        painter, sheet = QPainter(self), sheet_in_force()
        bold = self._jump or self.isChecked()
        painter.setFont(typeface.font(self._size, bold=bold))
        role = "teal" if self._jump else "ink" if self.isChecked() or self.underMouse() else "soft_ink"
        painter.setPen(sheet.color(role))
        side = Qt.AlignmentFlag.AlignRight if self._jump else Qt.AlignmentFlag.AlignLeft  # in line with others below
        painter.drawText(self.rect().adjusted(6, 0, -6, -3), side | Qt.AlignmentFlag.AlignVCenter, self.text())
        if self.isChecked():
            painter.fillRect(QRect(6, self.height() - 3, self.width() - 12, 3), sheet.color("teal"))
        if self.hasFocus():
            painter.setPen(sheet.color("teal"))
            painter.drawRoundedRect(self.rect().adjusted(0, 0, -1, -4), 4, 4)


class LineOfWords(QWidget):
    """The screens in one line, and at its right what is left to do."""

    chosen = Signal(str)

    def __init__(self, words: Sequence[str], indent: int = 32) -> None:
        """`indent`: pixels at the left and right that belong to no other widget."""
        super().__init__()
        self._indent = indent
        side = max(0, indent - 6)  # a word has room inside
        self._line = FlowLayout(self, margins=QMargins(side, 8, side, 0))
        self._words = {word: self._add_word(word) for word in words}
        self._tag = PlainLabel()
        self._tag.setFont(typeface.heading_font())
        self._tag.hide()
        self._line.add_right(self._tag)
        self._jumps: list[Word] = []
        self._ways: list[Callable[[], None]] = []

    def mark(self, word: str) -> None:
        """Show which screen is open."""
        for title, button in self._words.items():
            button.setChecked(title == word)

    def tag(self, words: str) -> None:
        """Show a tag for the kind of store before the jumps; empty for your own."""
        self._tag.setText(words)
        self._tag.setVisible(bool(words))

    def show_jumps(self, jumps: Sequence[tuple[str, Callable[[], None]]]) -> None:
        """Show these phrases at the right, each with its function. Buttons are reused."""
        while len(self._jumps) < len(jumps):
            self._jumps.append(self._add_jump(len(self._jumps)))
        self._ways = [go for _, go in jumps]
        for place, button in enumerate(self._jumps):
            button.setVisible(place < len(jumps))
            if place < len(jumps):
                button.say(jumps[place][0])

    def jumps(self) -> list[Word]:
        """Return the jump buttons shown."""
        return [button for button in self._jumps if not button.isHidden()]

    def paintEvent(self, _event: QPaintEvent) -> None:
        painter = QPainter(self)
        painter.fillRect(
            QRect(self._indent, self.height() - 1, self.width() - 2 * self._indent, 1),
            sheet_in_force().color("hairline"),
        )

    def _add_word(self, title: str) -> Word:
        button = Word(title, typeface.STRONG)
        button.setCheckable(True)
        button.clicked.connect(lambda: self._choose(title))
        self._line.addWidget(button)
        return button

    def _add_jump(self, place: int) -> Word:
        button = Word("", typeface.BODY, jump=True)
        button.clicked.connect(lambda _checked=False: self._ways[place]())
        self._line.add_right(button)
        self.setTabOrder(
            (self._jumps or list(self._words.values()))[-1], button
        )  # else it would be last in the Tab order
        return button

    def _choose(self, title: str) -> None:
        self.mark(title)
        self.chosen.emit(title)
