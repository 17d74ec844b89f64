"""A strip for a lasting state: one line near the top that covers nothing and can be dismissed."""

from __future__ import annotations

from collections.abc import Callable, Sequence

from PySide6.QtCore import QSize, Qt, Signal
from PySide6.QtGui import QPainter, QPaintEvent, QPen
from PySide6.QtWidgets import QHBoxLayout, QPushButton, QSizePolicy, QToolButton, QWidget

from desk.domain.severity import Severity
from desk.ui.kit import type as typeface
from desk.ui.kit.card import Inked
from desk.ui.kit.message import MarkDot
from desk.ui.kit.palette import sheet_in_force
from desk.ui.kit.plain import set_tip


class OneLineText(Inked):
    """A line of text, cut with an ellipsis where it doesn't fit; the tooltip has all of it."""

    def __init__(self, words: str = "", role: str = "ink", size: int = typeface.BODY) -> None:
        super().__init__(words, role, size)
        self.setSizePolicy(QSizePolicy.Policy.Ignored, QSizePolicy.Policy.Fixed)
        set_tip(self, words)

    def say(self, words: str) -> None:
        """Change the words."""
        self.setText(words)
        set_tip(self, words)

    def minimumSizeHint(self) -> QSize:
        return QSize(40, super().minimumSizeHint().height())

    def paintEvent(self, _event: QPaintEvent) -> None:
        painter = QPainter(self)
        painter.setFont(self.font())
        painter.setPen(sheet_in_force().color(self.role))
        words = self.fontMetrics().elidedText(self.text(), Qt.TextElideMode.ElideRight, self.width())
        painter.drawText(self.rect(), Qt.AlignmentFlag.AlignVCenter | Qt.AlignmentFlag.AlignLeft, words)


class Strip(QWidget):
    """Mark, words and buttons in one line with a hairline around it. A small one is thin and quiet."""

    dismissed = Signal()

    def __init__(
        self, words: str, mark: Severity, ways: Sequence[tuple[str, Callable[[], None]]] = (), *, is_small: bool = False
    ) -> None:
        super().__init__()
        self.setAccessibleName(words)
        size = typeface.SMALL if is_small else typeface.BODY
        line = QHBoxLayout(self)
        line.setContentsMargins(12, 0 if is_small else 3, 8, 0 if is_small else 3)
        line.addWidget(MarkDot(mark))
        line.addWidget(OneLineText(words, "soft_ink" if is_small else "ink", size), 1)
        for name, way in ways:
            button = QPushButton(name)
            button.setAccessibleName(name)
            button.setFont(typeface.font(size))
            button.setFlat(is_small)
            button.setFocusPolicy(Qt.FocusPolicy.TabFocus)  # a click leaves the focus where work continues
            button.clicked.connect(lambda _checked=False, way=way: way())
            line.addWidget(button)
        line.addWidget(self._cross(size))

    def _cross(self, size: int) -> QToolButton:
        cross = QToolButton()
        cross.setText("×")
        cross.setAutoRaise(True)
        cross.setFont(typeface.font(size))
        cross.setAccessibleName("Dismiss")
        set_tip(cross, "Dismiss")
        cross.setFocusPolicy(Qt.FocusPolicy.TabFocus)
        cross.clicked.connect(self.dismissed)
        return cross

    def paintEvent(self, _event: QPaintEvent) -> None:
        painter, sheet = QPainter(self), sheet_in_force()
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        painter.setPen(QPen(sheet.color("hairline"), 1))
        painter.setBrush(sheet.color("card"))
        painter.drawRoundedRect(self.rect().adjusted(0, 0, -1, -1), 6, 6)
