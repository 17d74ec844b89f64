"""A list opened by a key: digits choose, arrows and Enter reach the rest, Escape or the key closes it."""

from __future__ import annotations

from collections.abc import Sequence

from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import QListWidget

from desk.ui.actions import Act
from desk.ui.kit import type as typeface

NUMBERED = 9


class NumberedList(QListWidget):
    """Numbered choices. `chosen` carries the value."""

    chosen = Signal(str)
    left = Signal()

    def __init__(self, name: str, key: str) -> None:
        super().__init__()
        self.setAccessibleName(name)
        self.setFont(typeface.font(typeface.STRONG))
        self._key = key
        self._values: tuple[str, ...] = ()
        self.itemClicked.connect(lambda item: self._choose(self.row(item)))
        self.hide()

    def open(self, choices: Sequence[tuple[str, str]], current: str) -> None:
        """Show the choices, (value, words), with the current one selected, and take the keys."""
        self._values = tuple(value for value, _ in choices)
        self.clear()
        numbers = [f"{place}  " if place <= NUMBERED else "    " for place in range(1, len(choices) + 1)]
        self.addItems([f"{number}{words}" for number, (_, words) in zip(numbers, choices, strict=True)])
        self.setMaximumHeight(self.sizeHintForRow(0) * len(choices) + 2 * self.frameWidth() + 2)
        self.setCurrentRow(self._values.index(current) if current in self._values else 0)
        self.show()
        self.setFocus()

    def acts(self) -> Sequence[Act]:
        """Return the keys of the list, for the list of keys."""
        return (
            Act("1 – 9", "Choose by number"),
            Act("↑ ↓", "Choose another"),
            Act("Enter", "Use the selected one"),
            Act(f"{self._key} Escape", "Close the list"),
        )

    def keyPressEvent(self, event: QKeyEvent) -> None:
        text = event.text()
        if event.key() == Qt.Key.Key_Escape or text.upper() == self._key:
            self.hide()
            self.left.emit()
        elif event.key() in (Qt.Key.Key_Return, Qt.Key.Key_Enter):
            self._choose(self.currentRow())
        elif text.isdigit() and text != "0":
            self._choose(int(text) - 1)
        else:
            super().keyPressEvent(event)

    def _choose(self, place: int) -> None:
        if 0 <= place < len(self._values):
            self.hide()
            self.chosen.emit(self._values[place])
