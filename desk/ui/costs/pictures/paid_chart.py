"""Paid against estimated: a point for each package, above the line where it cost more than estimated."""

from __future__ import annotations

from collections.abc import Sequence

from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QFontMetricsF, QPainter, QPolygonF

from desk.domain.money import Money
from desk.session.words.figures import amount_words
from desk.ui.costs.pictures.picture import GAP, LEFT, RIGHT, Picture, line, write
from desk.ui.kit.palette import ColorSheet

SIZE = 4.0  # of a point
Point = tuple[int, int]  # estimated and paid, in minor units


class PaidChart(Picture):
    """The estimate from left to right, what was paid upward. A triangle cost more, a square less, a ring the same."""

    def __init__(self) -> None:
        super().__init__("Paid against estimated")
        self.points: Sequence[Point] = ()
        self.currency = "USD"

    def show_points(self, points: Sequence[Point], currency: str, words: str) -> None:
        """Show these points; equal ones are drawn once."""
        self.points, self.currency = sorted(set(points)), currency
        self.describe(words)

    def draw(self, painter: QPainter, sheet: ColorSheet) -> None:
        """Draw the line of equal amounts and a point for each package."""
        if not self.points:
            return
        metrics = QFontMetricsF(painter.font())
        high, most = metrics.height(), max(max(point) for point in self.points)
        top_words = amount_words(Money(most, self.currency))
        left = metrics.horizontalAdvance(top_words) + 2 * GAP
        box = QRectF(left, 1.6 * high, self.width() - left - 2 * GAP, self.height() - 3.4 * high)
        soft = sheet.color("soft_ink")
        line(painter, box.bottomLeft(), box.bottomRight(), sheet.color("hairline"))
        line(painter, box.bottomLeft(), box.topLeft(), sheet.color("hairline"))
        line(painter, box.bottomLeft(), box.topRight(), soft, dashed=True)
        write(painter, QRectF(0, box.top() - high / 2, left - GAP, high), top_words, RIGHT, soft)
        write(painter, QRectF(0, 0, left - GAP, high), "paid", RIGHT, soft)
        foot = QRectF(box.left(), box.bottom() + 4, box.width(), high)
        write(painter, foot, "estimated", LEFT, soft)
        write(painter, foot, top_words, RIGHT, soft)
        for estimated, paid in self.points:
            at = QPointF(box.left() + box.width() * estimated / most, box.bottom() - box.height() * paid / most)
            mark(painter, sheet, at, paid - estimated)
        self._legend(painter, sheet, QRectF(box.left(), 0, box.width(), high))

    def _legend(self, painter: QPainter, sheet: ColorSheet, box: QRectF) -> None:
        at = box.left() + GAP
        for words, difference in (("cost more", 1), ("cost less", -1), ("as estimated", 0)):
            wide = QFontMetricsF(painter.font()).horizontalAdvance(words) + GAP
            mark(painter, sheet, QPointF(at, box.center().y()), difference)
            write(painter, QRectF(at + GAP, box.top(), wide, box.height()), words, LEFT, sheet.color("soft_ink"))
            at += wide + 4 * GAP


def mark(painter: QPainter, sheet: ColorSheet, at: QPointF, difference: int) -> None:
    """Draw a point by its shape and color: a triangle above 0, a square below, a ring for 0."""
    role = "stop" if difference > 0 else "fine" if difference < 0 else "teal"
    painter.setPen(sheet.color(role))
    painter.setBrush(sheet.color(role) if difference else Qt.BrushStyle.NoBrush)
    if difference > 0:
        corners = (QPointF(-SIZE, SIZE), QPointF(SIZE, SIZE), QPointF(0, -SIZE))
        painter.drawPolygon(QPolygonF([at + corner for corner in corners]))
    elif difference < 0:
        painter.drawRect(QRectF(at.x() - SIZE + 1, at.y() - SIZE + 1, 2 * SIZE - 2, 2 * SIZE - 2))
    else:
        painter.drawEllipse(at, SIZE - 1, SIZE - 1)
    painter.setBrush(Qt.BrushStyle.NoBrush)
