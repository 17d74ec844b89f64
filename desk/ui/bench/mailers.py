"""The list of mailers, opened by M: a number key chooses, arrows and Enter for those beyond nine, Escape leaves."""

from __future__ import annotations

from collections.abc import Sequence

from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import QListWidget

from desk.ui.kit import type as typeface

NUMBERED = 9


class MailerList(QListWidget):
    """Names with their numbers."""

    chosen = Signal(str)
    left = Signal()

    def __init__(self) -> None:
        super().__init__()
        self.setAccessibleName("Mailers")
        self.setFont(typeface.font(typeface.STRONG))
        self._names: tuple[str, ...] = ()
        self.itemClicked.connect(lambda item: self._choose(self.row(item)))
        self.hide()

    def open(self, names: Sequence[str], current: str) -> None:
        """Show the names, the present one chosen, and take the keys."""
        self._names = tuple(names)
        self.clear()
        numbers = [f"{place}  " if place <= NUMBERED else "    " for place in range(1, len(names) + 1)]
        self.addItems([f"{number}{name}" for number, name in zip(numbers, names, strict=True)])
        self.setCurrentRow(names.index(current) if current in names else 0)
        self.show()
        self.setFocus()

    def keyPressEvent(self, event: QKeyEvent) -> None:
        text = event.text()
        if event.key() == Qt.Key.Key_Escape or text in ("m", "M"):
            self.hide()
            self.left.emit()
        elif event.key() in (Qt.Key.Key_Return, Qt.Key.Key_Enter):
            self._choose(self.currentRow())
        elif text.isdigit() and text != "0":
            self._choose(int(text) - 1)
        else:
            super().keyPressEvent(event)

    def _choose(self, place: int) -> None:
        if 0 <= place < len(self._names):
            self.hide()
            self.chosen.emit(self._names[place])
