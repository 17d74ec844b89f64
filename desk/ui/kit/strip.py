"""A strip for a state: it stays until the state is over, near the top, and covers nothing."""

from __future__ import annotations

from collections.abc import Callable, Sequence

from PySide6.QtGui import QPainter, QPaintEvent, QPen
from PySide6.QtWidgets import QHBoxLayout, QPushButton, QWidget

from desk.ui.kit import type as typeface
from desk.ui.kit.message import MarkDot
from desk.ui.kit.palette import sheet_in_force
from desk.ui.kit.plain import PlainLabel


class Strip(QWidget):
    """Mark, words and buttons in one line with a hairline around it."""

    def __init__(self, words: str, mark: str, ways: Sequence[tuple[str, Callable[[], None]]] = ()) -> None:
        super().__init__()
        self.setAccessibleName(words)
        line = QHBoxLayout(self)
        line.setContentsMargins(12, 6, 8, 6)
        line.addWidget(MarkDot(mark))
        label = PlainLabel(words)
        label.setWordWrap(True)
        label.setFont(typeface.font(typeface.BODY))
        line.addWidget(label, 1)
        for name, way in ways:
            button = QPushButton(name)
            button.setAccessibleName(name)
            button.clicked.connect(lambda _checked=False, way=way: way())
            line.addWidget(button)

    def paintEvent(self, _event: QPaintEvent) -> None:
        painter, sheet = QPainter(self), sheet_in_force()
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        painter.setPen(QPen(sheet.colour("hairline"), 1))
        painter.setBrush(sheet.colour("card"))
        painter.drawRoundedRect(self.rect().adjusted(0, 0, -1, -1), 6, 6)
