"""Lines with words at the left and right-aligned amounts."""

from __future__ import annotations

from collections.abc import Sequence

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QGridLayout, QWidget

from desk.ui.kit import type as typeface
from desk.ui.kit.card import Inked


class CostLines(QWidget):
    """Lines of (words, amount, strong)."""

    def __init__(self, name: str) -> None:
        super().__init__()
        self.setAccessibleName(name)
        self._grid = QGridLayout(self)
        self._grid.setContentsMargins(0, 0, 0, 0)
        self._grid.setVerticalSpacing(8)
        self._grid.setColumnStretch(0, 1)
        self.lines: tuple[tuple[str, str, bool], ...] = ()

    def show_lines(self, lines: Sequence[tuple[str, str, bool]]) -> None:
        """Show these lines; showing the same ones again is free."""
        if tuple(lines) == self.lines:
            return
        self.lines = tuple(lines)
        while (item := self._grid.takeAt(0)) is not None:
            if (widget := item.widget()) is not None:
                widget.hide()
                widget.deleteLater()
        for row, (words, amount, strong) in enumerate(lines):
            left = Inked(words, "ink" if strong else "soft_ink", typeface.BODY, bold=strong)
            left.setWordWrap(True)
            right = Inked(amount, size=typeface.BODY, bold=True)
            self._grid.addWidget(left, row, 0)
            self._grid.addWidget(right, row, 1, Qt.AlignmentFlag.AlignRight | Qt.AlignmentFlag.AlignTop)
