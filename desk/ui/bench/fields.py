"""The fields of the bench, such as the number and a typed weight. Each opens where it is used; Escape closes it."""

from __future__ import annotations

import time
from collections.abc import Callable, Sequence

from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import QHBoxLayout, QLineEdit, QWidget

from desk.ui.actions import Act
from desk.ui.kit import type as typeface
from desk.ui.kit.card import Inked

READER_KEY_S = 0.03  # a barcode reader types faster than this from key to key; common practice, no source
READER_LEAST = 3


class OneLine(QWidget):
    """A label, a text field, and a line for its fault. Hidden until it is opened."""

    entered = Signal(str)
    left = Signal()

    def __init__(self, name: str, hint: str, clock: Callable[[], float] = time.monotonic) -> None:
        super().__init__()
        self._clock = clock
        self._keys: list[float] = []
        self.line = _Line(self)
        self.line.setAccessibleName(name)
        self.line.setPlaceholderText(hint)
        self.line.setFont(typeface.font(typeface.HEAD))
        label = Inked(name, "soft_ink", typeface.BODY)
        label.setBuddy(self.line)
        self.fault = Inked(role="stop", size=typeface.BODY)
        self.fault.setWordWrap(True)
        self.fault.hide()
        row = QHBoxLayout(self)
        row.setContentsMargins(0, 0, 0, 0)
        row.addWidget(label)
        row.addWidget(self.line, 2)
        row.addWidget(self.fault, 3)
        self.line.textEdited.connect(self._typed)
        self.line.returnPressed.connect(lambda: self.entered.emit(self.line.text()))
        self.hide()

    def open(self, first: str = "") -> None:
        """Show the field and put the focus there, with what was already typed."""
        self.say("")
        self._keys = [self._clock()] if first else []
        self.line.setText(first)
        self.show()
        self.line.setFocus()

    def close_field(self) -> None:
        """Hide the field."""
        self.line.clear()
        self.hide()
        self.left.emit()

    def acts(self) -> Sequence[Act]:
        """Return the keys of the field, for the list of keys (F1 while typing)."""
        return (
            Act("Enter", f"{self.line.accessibleName()}: use what is typed"),
            Act("Escape", "Close the field"),
        )

    def say(self, fault: str) -> None:
        """Show a fault at the field; empty clears it."""
        self.fault.setText(fault)
        self.fault.setVisible(bool(fault))

    def by_reader(self) -> bool:
        """Return True when the text was typed as fast as only a barcode reader does."""
        keys = self._keys
        return len(keys) >= READER_LEAST and keys[-1] - keys[0] < READER_KEY_S * (len(keys) - 1)

    def _typed(self, _text: str) -> None:
        self._keys.append(self._clock())
        self.say("")


class _Line(QLineEdit):
    def __init__(self, field: OneLine) -> None:
        super().__init__()
        self._field = field

    def keyPressEvent(self, event: QKeyEvent) -> None:
        if event.key() == Qt.Key.Key_Escape:
            self._field.close_field()
        else:
            super().keyPressEvent(event)
            event.accept()  # else Enter would go on to the screen and open the next piece
