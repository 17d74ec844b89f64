"""Marks: round = fine, triangle = look, square = stop, ring = note. Shape first, color second."""

from __future__ import annotations

from PySide6.QtCore import QPointF, QRectF
from PySide6.QtGui import QPainter, QPen, QPolygonF

from desk.domain.severity import Severity
from desk.ui.kit.palette import ColorSheet

ROLE_OF = {Severity.FINE: "fine", Severity.LOOK: "look", Severity.STOP: "stop", Severity.NOTE: "soft_ink"}


def paint_mark(painter: QPainter, kind: Severity, box: QRectF, sheet: ColorSheet) -> None:
    """Paint the mark of a severity into a box."""
    color = sheet.color(ROLE_OF[kind])
    painter.save()
    painter.setRenderHint(QPainter.RenderHint.Antialiasing)
    painter.setPen(QPen(color, max(1.5, box.width() / 7)))
    painter.setBrush(color)
    inside = box.adjusted(1, 1, -1, -1)
    if kind == Severity.FINE:
        painter.drawEllipse(inside.adjusted(1, 1, -1, -1))
    elif kind == Severity.LOOK:
        corners = [inside.bottomLeft(), inside.bottomRight(), QPointF(inside.center().x(), inside.top())]
        painter.drawPolygon(QPolygonF(corners))
    elif kind == Severity.STOP:
        painter.drawRect(inside)
    else:
        painter.setBrush(sheet.color("card"))
        painter.drawEllipse(inside.adjusted(1, 1, -1, -1))
    painter.restore()
