"""The ounce ruler: ticks each tenth, price steps as pennants, the weight as a wedge with its band of doubt.

The same picture is shown large on the bench and one line high in lists; it knows only numbers and texts.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from math import ceil, floor

from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QColor, QPainter, QPen, QPolygonF

from desk.session.words.figures import measure
from desk.ui.kit import type as typeface
from desk.ui.kit.palette import ColorSheet

BELOW = 28  # the longest tick, below the line; the numbers are below it


@dataclass(frozen=True, slots=True)
class Pennant:
    """A price step: where it ends, and the text on its pennant."""

    at: float
    text: str


@dataclass(frozen=True, slots=True)
class RulerPicture:
    """What to draw, in the ruler's unit. `doubt` is the color role of the band's edge; empty for no edge.

    `applies` is the current price step; where it lies beyond the drawn part, its pennant is at the right edge.
    """

    weight: float | None = None
    low: float | None = None
    high: float | None = None
    pennants: tuple[Pennant, ...] = field(default=())
    doubt: str = ""
    applies: Pennant | None = None

    def span(self) -> tuple[float, float]:
        """Return the part of the ruler to show: from zero when light, else two units to each side of the weight."""
        weight = self.weight or 0.0
        reach = max([weight, *(p.at for p in self.pennants[:2])], default=2.0)
        if reach <= 4:
            return 0.0, max(2.4, ceil(reach) + 0.4)
        return floor(weight) - 1.6, ceil(weight) + 1.4

    def beyond(self) -> Pennant | None:
        """Return the current price's text for the right edge, where its step ends beyond the drawn part."""
        end = self.span()[1]
        if self.applies is None or self.applies.at <= end:
            return None
        return Pennant(end, measure(f"{self.applies.text} to {self.applies.at:g} oz"))


def paint_ruler(painter: QPainter, picture: RulerPicture, box: QRectF, sheet: ColorSheet) -> None:
    """Paint the whole ruler into a box at least 60 pixels high."""
    painter.save()
    painter.setRenderHint(QPainter.RenderHint.Antialiasing)
    low, high = picture.span()
    scale = (box.width() - 16) / (high - low)
    line = box.bottom() - BELOW - 24 * typeface.scale()
    place = _Place(box.left() + 8, low, high, scale, line)
    _paint_band(painter, picture, place, sheet)
    _paint_ticks(painter, place, sheet)
    for pennant in picture.pennants:
        if low <= pennant.at <= high:
            _paint_pennant(painter, pennant, place, box, sheet)
    if (beyond := picture.beyond()) is not None:
        _paint_pennant(painter, beyond, place, box, sheet)
    _paint_wedge(painter, picture, place, sheet)
    painter.restore()


def paint_small_ruler(painter: QPainter, picture: RulerPicture, box: QRectF, sheet: ColorSheet) -> None:
    """Paint it one line high: a hairline, the steps as ticks, the weight as a wedge."""
    painter.save()
    painter.setRenderHint(QPainter.RenderHint.Antialiasing)
    low, high = picture.span()
    line = box.bottom() - 5
    place = _Place(box.left() + 4, low, high, (box.width() - 8) / (high - low), line)
    painter.setPen(QPen(sheet.color("soft_ink"), 1))
    painter.drawLine(QPointF(place.x(low), line), QPointF(place.x(high), line))
    for whole in range(ceil(low), floor(high) + 1):
        painter.drawLine(QPointF(place.x(whole), line - 3), QPointF(place.x(whole), line + 3))
    _paint_wedge(painter, picture, place, sheet, size=4.0)
    painter.restore()


@dataclass(frozen=True, slots=True)
class _Place:
    left: float
    low: float
    high: float
    scale: float
    line: float

    def x(self, value: float) -> float:
        return self.left + (min(max(value, self.low), self.high) - self.low) * self.scale


def _paint_band(painter: QPainter, picture: RulerPicture, place: _Place, sheet: ColorSheet) -> None:
    if picture.low is None or picture.high is None:
        return
    band = QRectF(place.x(picture.low), place.line - 26, place.x(picture.high) - place.x(picture.low), 26)
    painter.fillRect(band, sheet.color("doubt"))
    if picture.doubt:
        painter.setPen(QPen(sheet.color(picture.doubt), 2.5))
        painter.drawRect(band)


def _paint_ticks(painter: QPainter, place: _Place, sheet: ColorSheet) -> None:
    painter.setPen(QPen(sheet.color("ink"), 2))
    painter.drawLine(QPointF(place.x(place.low), place.line), QPointF(place.x(place.high), place.line))
    painter.setFont(typeface.font(typeface.BODY, bold=True))
    for tenth in range(ceil(place.low * 10), floor(place.high * 10) + 1):
        whole, half = tenth % 10 == 0, tenth % 5 == 0
        painter.setPen(QPen(sheet.color("ink" if whole else "soft_ink"), 2 if whole else 1))
        x = place.x(tenth / 10)
        painter.drawLine(QPointF(x, place.line), QPointF(x, place.line + (26 if whole else 15 if half else 9)))
        if whole:
            label = QRectF(x - 30, place.line + 26, 60, 24 * typeface.scale())
            painter.drawText(label, Qt.AlignmentFlag.AlignHCenter | Qt.AlignmentFlag.AlignTop, str(tenth // 10))


def _paint_pennant(painter: QPainter, pennant: Pennant, place: _Place, box: QRectF, sheet: ColorSheet) -> None:
    x, top, height = place.x(pennant.at), box.top() + 4, 22 * typeface.scale()
    painter.setFont(typeface.font(typeface.SMALL + 1, bold=True))
    width = painter.fontMetrics().horizontalAdvance(pennant.text) + 26
    teal: QColor = sheet.color("teal")
    painter.setPen(QPen(teal, 2))
    painter.drawLine(QPointF(x, top), QPointF(x, place.line))
    left = x - width
    corners = [(left, top), (x, top), (x, top + height), (left, top + height), (left + 8, top + height / 2)]
    painter.setBrush(teal)
    painter.setPen(Qt.PenStyle.NoPen)
    painter.drawPolygon(QPolygonF([QPointF(*corner) for corner in corners]))
    painter.setPen(sheet.color("card"))
    painter.drawText(QRectF(left + 10, top, width - 14, height), Qt.AlignmentFlag.AlignCenter, pennant.text)


def _paint_wedge(
    painter: QPainter, picture: RulerPicture, place: _Place, sheet: ColorSheet, size: float = 10.0
) -> None:
    if picture.weight is None:
        return
    x = place.x(picture.weight)
    painter.setPen(Qt.PenStyle.NoPen)
    painter.setBrush(sheet.color("ink"))
    tip = place.line
    corners = [QPointF(x, tip), QPointF(x - size, tip - size * 2.2), QPointF(x + size, tip - size * 2.2)]
    painter.drawPolygon(QPolygonF(corners))
