"""A key and what it does, as text that can be pressed: the letter in bold, the verb in soft ink."""

from __future__ import annotations

from PySide6.QtCore import QRect, QSize, Qt
from PySide6.QtGui import QFontMetrics, QPainter, QPaintEvent
from PySide6.QtWidgets import QAbstractButton, QSizePolicy

from desk.ui.kit import type as typeface
from desk.ui.kit.palette import sheet_in_force
from desk.ui.kit.plain import set_tip

GAP = 5


class KeyWord(QAbstractButton):
    """Text for a key, as a button. Checked: on, in ink and underlined. With `can_shrink` it is cut where there is no
    room, and given in full in the tooltip and the accessible name.
    """

    def __init__(self, key: str, words: str, *, can_hold: bool = False, can_shrink: bool = False) -> None:
        super().__init__()
        self.key = key
        self.setText(words)
        self.setAccessibleName(words)
        self.setCheckable(can_hold)
        self.setCursor(Qt.CursorShape.PointingHandCursor)
        self.setFocusPolicy(Qt.FocusPolicy.TabFocus)  # a click leaves the focus where work continues
        self._can_shrink = can_shrink
        wide = QSizePolicy.Policy.Maximum if can_shrink else QSizePolicy.Policy.Fixed
        self.setSizePolicy(wide, QSizePolicy.Policy.Fixed)

    def say(self, words: str) -> None:
        """Change the words of the key."""
        if words != self.text():
            self.setText(words)
            self.setAccessibleName(words)
            set_tip(self, words if self._can_shrink else "")
            self.updateGeometry()

    def nextCheckState(self) -> None:
        """Ignore presses: the screen decides what is checked."""

    def sizeHint(self) -> QSize:
        letter, word = self._widths()
        metrics = QFontMetrics(typeface.font(typeface.BODY, bold=True))
        return QSize(letter + GAP + word + 10, max(26, metrics.height() + 8))

    def minimumSizeHint(self) -> QSize:
        full = self.sizeHint()
        return QSize(full.width() // 3, full.height()) if self._can_shrink else full

    def paintEvent(self, _event: QPaintEvent) -> None:
        painter, sheet = QPainter(self), sheet_in_force()
        letter, word = self._widths()
        line = QRect(4, 0, letter, self.height() - 3)
        painter.setFont(typeface.font(typeface.SMALL, bold=True))
        painter.setPen(sheet.color("teal"))
        painter.drawText(line, Qt.AlignmentFlag.AlignVCenter, self.key)
        painter.setFont(typeface.font(typeface.BODY, bold=self.isChecked()))
        painter.setPen(sheet.color("ink" if self.isChecked() or self.underMouse() else "soft_ink"))
        room = self.width() - letter - GAP - 8
        text = painter.fontMetrics().elidedText(self.text(), Qt.TextElideMode.ElideRight, room)
        box = QRect(4 + letter + GAP, 0, word + 2, self.height() - 3)
        painter.drawText(box, Qt.AlignmentFlag.AlignVCenter, text if room < word else self.text())
        if self.isChecked():
            painter.fillRect(QRect(box.left(), self.height() - 3, word, 2), sheet.color("teal"))
        if self.hasFocus():
            painter.setPen(sheet.color("teal"))
            painter.drawRoundedRect(self.rect().adjusted(0, 0, -1, -1), 4, 4)

    def _widths(self) -> tuple[int, int]:
        letters = QFontMetrics(typeface.font(typeface.SMALL, bold=True))
        words = QFontMetrics(typeface.font(typeface.BODY, bold=True))
        return letters.horizontalAdvance(self.key), words.horizontalAdvance(self.text())
