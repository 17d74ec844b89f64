"""A list of bars: a name, a bar as long as its number, and the number."""

from __future__ import annotations

from collections.abc import Sequence

from PySide6.QtCore import QRectF, Qt
from PySide6.QtGui import QFontMetricsF, QPainter

from desk.session.words.figures import number_in_words
from desk.ui.costs.pictures.picture import GAP, LEFT, RIGHT, Picture, write
from desk.ui.kit.palette import ColorSheet

SPACED = 1.7  # lines of text from one bar to the next


class BarList(Picture):
    """As many bars as fit, the longest first; the last line counts the rest."""

    def __init__(self, name: str) -> None:
        super().__init__(name)
        self.bars: Sequence[tuple[str, int]] = ()

    def show_bars(self, bars: Sequence[tuple[str, int]], words: str) -> None:
        """Show these names and numbers, the largest first."""
        self.bars = bars
        self.describe(words)

    def draw(self, painter: QPainter, sheet: ColorSheet) -> None:
        """Draw as many bars as fit."""
        metrics = QFontMetricsF(painter.font())
        high = metrics.height() * SPACED
        bars = self._fitting(max(int(self.height() / high), 1))
        if not bars:
            return
        names = min(max(metrics.horizontalAdvance(name) for name, _ in bars) + GAP, self.width() * 0.4)
        numbers = max(metrics.horizontalAdvance(number_in_words(number)) for _, number in bars) + GAP
        most, room = max(number for _, number in bars), self.width() - names - numbers
        for row, (name, number) in enumerate(bars):
            top = row * high
            write(painter, QRectF(0, top, names - GAP, high), name, RIGHT, sheet.color("ink"))
            painter.setPen(Qt.PenStyle.NoPen)
            painter.setBrush(sheet.color("teal"))
            long = max(room * number / most, 1.0)
            painter.drawRoundedRect(QRectF(names, top + high * 0.2, long, high * 0.6), 2, 2)
            beside = QRectF(names + long + 6, top, numbers, high)
            write(painter, beside, number_in_words(number), LEFT, sheet.color("ink"))

    def _fitting(self, rows: int) -> list[tuple[str, int]]:
        if len(self.bars) <= rows:
            return list(self.bars)
        rest = self.bars[rows - 1 :]
        return [*self.bars[: rows - 1], (f"{number_in_words(len(rest))} others", sum(number for _, number in rest))]
