"""Pieces drawn by shape: an envelope, a sheet, a box, as outlines."""

from __future__ import annotations

from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QColor, QPainter, QPainterPath, QPen


def shape_path(shape: str, box: QRectF) -> QPainterPath:
    """Return the outline of `letter` (envelope), `flat` (sheet) or anything else (box), fitted into a box."""
    return {"letter": _envelope, "flat": _sheet}.get(shape, _box)(box)


def paint_shape(painter: QPainter, shape: str, box: QRectF, ink: QColor) -> None:
    """Draw the outline of a shape."""
    painter.save()
    painter.setRenderHint(QPainter.RenderHint.Antialiasing)
    painter.setPen(QPen(ink, 1.5, Qt.PenStyle.SolidLine, Qt.PenCapStyle.RoundCap, Qt.PenJoinStyle.RoundJoin))
    painter.setBrush(Qt.BrushStyle.NoBrush)
    painter.drawPath(shape_path(shape, box))
    painter.restore()


def _envelope(box: QRectF) -> QPainterPath:
    path = QPainterPath()
    body = QRectF(box.left(), box.top() + box.height() * 0.15, box.width(), box.height() * 0.7)
    path.addRoundedRect(body, 2, 2)
    path.moveTo(body.left() + 1, body.top() + 1)
    path.lineTo(body.center().x(), body.top() + body.height() * 0.55)
    path.lineTo(body.right() - 1, body.top() + 1)
    return path


def _sheet(box: QRectF) -> QPainterPath:
    path = QPainterPath()
    width = box.height() * 0.7
    path.addRoundedRect(QRectF(box.center().x() - width / 2, box.top(), width, box.height()), 2, 2)
    return path


def _box(box: QRectF) -> QPainterPath:
    middle, half = box.center().x(), min(box.width(), box.height()) / 2
    top, bottom, quarter = box.top(), box.bottom(), box.height() / 4
    left, right = middle - half * 0.9, middle + half * 0.9
    path = QPainterPath(QPointF(middle, top))
    for x, y in ((right, top + quarter), (right, bottom - quarter), (middle, bottom), (left, bottom - quarter)):
        path.lineTo(x, y)
    path.lineTo(left, top + quarter)
    path.closeSubpath()
    path.moveTo(left, top + quarter)
    path.lineTo(middle, top + 2 * quarter)
    path.lineTo(right, top + quarter)
    path.moveTo(middle, top + 2 * quarter)
    path.lineTo(middle, bottom)
    return path
