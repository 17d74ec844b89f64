"""A curve of the share of orders that lose money at each charge, with the chosen charge marked."""

from __future__ import annotations

from collections.abc import Sequence

from PySide6.QtCore import QPointF, QRectF, QSize, Qt
from PySide6.QtGui import QPainter, QPaintEvent, QPen, QPolygonF
from PySide6.QtWidgets import QSizePolicy, QWidget

from desk.session.money.charging import ChargeOutcome
from desk.session.words.figures import amount_words, share_in_words
from desk.ui.kit import type as typeface
from desk.ui.kit.palette import sheet_in_force

LEFT, BELOW, ABOVE = 56.0, 30.0, 12.0  # pixels at 100%

RIGHT = Qt.AlignmentFlag.AlignRight | Qt.AlignmentFlag.AlignVCenter


class ChargeCurve(QWidget):
    """Paints outcomes from left to right; the table beside it has the same numbers."""

    def __init__(self) -> None:
        super().__init__()
        self.outcomes: Sequence[ChargeOutcome] = ()
        self.chosen: ChargeOutcome | None = None
        self.setAccessibleName("Share of orders that lose money, by charge")
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Expanding)

    def show_outcomes(self, outcomes: Sequence[ChargeOutcome], chosen: ChargeOutcome | None) -> None:
        """Show these outcomes, ascending by charge, and mark the chosen one."""
        self.outcomes, self.chosen = outcomes, chosen
        self.setAccessibleDescription("" if chosen is None else words_for(chosen))
        self.update()

    def sizeHint(self) -> QSize:
        return QSize(420, round(200 * typeface.scale()))

    def paintEvent(self, _event: QPaintEvent) -> None:
        if len(self.outcomes) < 2:
            return
        painter, sheet = QPainter(self), sheet_in_force()
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        painter.setFont(typeface.font(typeface.SMALL))
        scale = typeface.scale()
        left, line = LEFT * scale, 20 * scale
        box = QRectF(left, ABOVE * scale, self.width() - left - 12, self.height() - (ABOVE + BELOW) * scale)
        painter.setPen(QPen(sheet.color("hairline"), 1))
        for share in (0.0, 0.5, 1.0):
            y = box.bottom() - share * box.height()
            painter.setPen(QPen(sheet.color("hairline"), 1))
            painter.drawLine(QPointF(box.left(), y), QPointF(box.right(), y))
            painter.setPen(sheet.color("soft_ink"))
            painter.drawText(QRectF(0, y - line / 2, left - 8, line), RIGHT, share_in_words(share))
        painter.setPen(QPen(sheet.color("teal"), 2))
        painter.drawPolyline(QPolygonF([self._point(box, one) for one in self.outcomes]))
        painter.setPen(sheet.color("soft_ink"))
        for one, side in (
            (self.outcomes[0], Qt.AlignmentFlag.AlignLeft),
            (self.outcomes[-1], Qt.AlignmentFlag.AlignRight),
        ):
            text = amount_words(one.charge)
            painter.drawText(QRectF(box.left(), box.bottom() + 6, box.width(), line), side, text)
        if self.chosen is not None:
            painter.setPen(QPen(sheet.color("look"), 2))
            point = self._point(box, self.chosen)
            painter.drawLine(QPointF(point.x(), box.top()), QPointF(point.x(), box.bottom()))
            painter.setBrush(sheet.color("look"))
            painter.drawEllipse(point, 4, 4)

    def _point(self, box: QRectF, one: ChargeOutcome) -> QPointF:
        low, high = self.outcomes[0].charge.minor, self.outcomes[-1].charge.minor
        along = (one.charge.minor - low) / max(high - low, 1)
        return QPointF(box.left() + along * box.width(), box.bottom() - one.share_losing * box.height())


def words_for(one: ChargeOutcome) -> str:
    """Return an outcome in a sentence."""
    charge = amount_words(one.charge)
    margin = amount_words(one.average_margin)
    return f"At {charge}, {one.losing} of {one.orders} orders lose money. The average margin is {margin}."
