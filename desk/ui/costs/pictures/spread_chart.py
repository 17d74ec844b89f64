"""The spread of weights: a bar for each weight range, with the steps of the price list drawn in as dashed lines."""

from __future__ import annotations

from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QFontMetricsF, QPainter

from desk.domain.exact import short
from desk.session.money.pictures import WeightSpread
from desk.session.words.figures import amount_words
from desk.ui.costs.pictures.picture import CENTER, GAP, RIGHT, Picture, line, write
from desk.ui.kit.palette import ColorSheet


class SpreadChart(Picture):
    """Ounces from left to right, packages upward; each price is above the weights it is for."""

    def __init__(self) -> None:
        super().__init__("Spread of weights, with price steps")
        self.spread = WeightSpread("", "")

    def show_spread(self, spread: WeightSpread, words: str) -> None:
        """Show this spread."""
        self.spread = spread
        self.describe(words)

    def draw(self, painter: QPainter, sheet: ColorSheet) -> None:
        """Draw the bars, then the steps of the price list over them."""
        if not self.spread.bars:
            return
        metrics = QFontMetricsF(painter.font())
        high = metrics.height()
        most = max(bar.count for bar in self.spread.bars)
        left = metrics.horizontalAdvance(str(most)) + 2 * GAP
        box = QRectF(left, 1.5 * high, self.width() - left - 2 * GAP, self.height() - 4 * high)
        end = float(max(self.spread.bars[-1].to, self.spread.steps[-1].to if self.spread.steps else 0))
        self._bars(painter, sheet, box, end, most)
        line(painter, box.bottomLeft(), box.bottomRight(), sheet.color("soft_ink"))
        write(painter, QRectF(0, box.top() - high / 2, left - GAP, high), str(most), RIGHT, sheet.color("soft_ink"))
        self._steps(painter, sheet, box, end)
        foot = QRectF(box.left(), box.bottom() + 1.4 * high, box.width(), high)
        write(painter, foot, "ounces", CENTER, sheet.color("soft_ink"))

    def _bars(self, painter: QPainter, sheet: ColorSheet, box: QRectF, end: float, most: int) -> None:
        painter.setPen(Qt.PenStyle.NoPen)
        painter.setBrush(sheet.color("teal"))
        for bar in self.spread.bars:
            left, right = (box.left() + box.width() * float(at) / end for at in (bar.above, bar.to))
            tall = box.height() * bar.count / most
            gap = 1.0 if right - left > 4 else 0.0
            painter.drawRect(QRectF(left + gap, box.bottom() - tall, right - left - 2 * gap, tall))
        painter.setBrush(Qt.BrushStyle.NoBrush)

    def _steps(self, painter: QPainter, sheet: ColorSheet, box: QRectF, end: float) -> None:
        """Draw the steps. Where two are too close, only the first is named; the table has them all."""
        metrics, free = QFontMetricsF(painter.font()), box.left()
        for step in self.spread.steps:
            at = box.left() + box.width() * float(step.to) / end
            line(painter, QPointF(at, box.top()), QPointF(at, box.bottom() + 4), sheet.color("look"), dashed=True)
            price, ounces = amount_words(step.price), short(step.to)
            wide = max(metrics.horizontalAdvance(price), metrics.horizontalAdvance(ounces)) + GAP
            if at - wide < free:
                continue
            above = QRectF(at - wide, box.top() - 1.4 * metrics.height(), wide, metrics.height())
            below = QRectF(at - wide / 2, box.bottom() + 6, wide, metrics.height())
            write(painter, above, price, RIGHT, sheet.color("look"))
            write(painter, below, ounces, CENTER, sheet.color("soft_ink"))
            free = at
