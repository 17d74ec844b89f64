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
        self._words, self.more = words, PlainLabel(words)
        title = PlainLabel(heading)
        title.setFont(typeface.font(typeface.HEAD, bold=True))
        self.more.setFont(typeface.font(typeface.STRONG))
        for label in (title, self.more):
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

    def say(self, more: str) -> None:
        """Add something after the sentence."""
        self.more.setText(" ".join(filter(None, (self._words, more))))
