"""The list of keys, made from the tables of acts, shown in the window."""

from __future__ import annotations

from collections.abc import Sequence

from PySide6.QtCore import Qt
from PySide6.QtGui import QFont, QKeySequence
from PySide6.QtWidgets import QGridLayout, QLabel, QWidget

from desk.ui.actions import Act
from desk.ui.kit import type as typeface

COLUMNS = 4


class KeyList(QWidget):
    """Keys and what they do, a heading for each place they work in."""

    def __init__(self) -> None:
        super().__init__()
        self.setAccessibleName(self.tr("Keys"))
        self._grid = QGridLayout(self)
        self._grid.setContentsMargins(32, 8, 32, 8)
        self._grid.setHorizontalSpacing(12)
        for across in range(COLUMNS):
            self._grid.setColumnStretch(across * 2 + 1, 1)

    def show_acts(self, places: Sequence[tuple[str, Sequence[Act]]]) -> None:
        """Show the acts of each place."""
        while (item := self._grid.takeAt(0)) is not None:
            if (widget := item.widget()) is not None:
                widget.hide()
                widget.deleteLater()
        row = 0
        for heading, acts in places:
            self._grid.addWidget(_label(heading, typeface.heading_font()), row, 0, 1, COLUMNS * 2)
            for at, act in enumerate(acts):
                down, across = divmod(at, COLUMNS)
                keys = " / ".join(_native(part) for part in act.keys.split()) if act.do else act.keys
                self._grid.addWidget(_label(keys, typeface.font(typeface.SMALL, bold=True)), row + 1 + down, across * 2)
                self._grid.addWidget(_label(act.words, typeface.font(typeface.SMALL)), row + 1 + down, across * 2 + 1)
            row += 2 + (len(acts) - 1) // COLUMNS


def _label(words: str, font: QFont) -> QLabel:
    label = QLabel(words)
    label.setTextFormat(Qt.TextFormat.PlainText)
    label.setFont(font)
    return label


def _native(keys: str) -> str:
    return QKeySequence(keys).toString(QKeySequence.SequenceFormat.NativeText)
