"""An empty view: what would be here, and buttons to fill it."""

from __future__ import annotations

from collections.abc import Callable, Sequence

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QPushButton, QVBoxLayout, QWidget

from desk.ui.kit import type as typeface
from desk.ui.kit.plain import PlainLabel


class EmptyView(QWidget):
    """A heading, a sentence, and buttons below it."""

    def __init__(self, heading: str, words: str, ways: Sequence[tuple[str, Callable[[], None]]] = ()) -> None:
        super().__init__()
        self.setAccessibleName(heading)
        column = QVBoxLayout(self)
        column.addStretch(1)
        for text, font in ((heading, typeface.font(typeface.HEAD, bold=True)), (words, typeface.font(typeface.STRONG))):
            label = PlainLabel(text)
            label.setFont(font)
            label.setWordWrap(True)
            label.setAlignment(Qt.AlignmentFlag.AlignHCenter)
            column.addWidget(label)
        column.addSpacing(12)
        self.buttons = []
        for name, way in ways:
            button = QPushButton(name)
            button.setAccessibleName(name)
            button.clicked.connect(lambda _checked=False, way=way: way())
            column.addWidget(button, 0, Qt.AlignmentFlag.AlignHCenter)
            self.buttons.append(button)
        column.addStretch(2)
