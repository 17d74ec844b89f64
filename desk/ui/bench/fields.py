"""The two fields of the bench: find by number, and a typed weight. Each opens where it is used and leaves by Escape."""

from __future__ import annotations

import time
from collections.abc import Callable

from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import QHBoxLayout, QLineEdit, QWidget

from desk.ui.kit import type as typeface
from desk.ui.kit.card import Inked

READER_KEY_S = 0.03  # a barcode reader types faster than this from key to key; common practice, no source
READER_LEAST = 3


class OneLine(QWidget):
    """A label, a line, and a place for what is wrong with it. Hidden until it is opened."""

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
        """Show it and put the focus there, with what was typed already."""
        self.say("")
        self._keys = [self._clock()] if first else []
        self.line.setText(first)
        self.show()
        self.line.setFocus()

    def close_field(self) -> None:
        """Put it away."""
        self.line.clear()
        self.hide()
        self.left.emit()

    def say(self, fault: str) -> None:
        """Say what is wrong, at the field; empty: nothing is."""
        self.fault.setText(fault)
        self.fault.setVisible(bool(fault))

    def by_reader(self) -> bool:
        """True when what stands there came as fast as only a barcode reader types."""
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
