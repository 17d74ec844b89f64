"""The base of all pictures: a name, a sentence for a screen reader, and the colors and type of the window."""

from __future__ import annotations

from PySide6.QtCore import QPointF, QRectF, QSize, Qt
from PySide6.QtGui import QColor, QFontMetricsF, QPainter, QPaintEvent, QPen
from PySide6.QtWidgets import QSizePolicy, QWidget

from desk.ui.kit import type as typeface
from desk.ui.kit.palette import ColorSheet, sheet_in_force

LEFT, RIGHT, CENTER = Qt.AlignmentFlag.AlignLeft, Qt.AlignmentFlag.AlignRight, Qt.AlignmentFlag.AlignHCenter
GAP = 8.0  # pixels at 100%


class Picture(QWidget):
    """A picture drawn by `draw`; the table beside it has the same figures."""

    def __init__(self, name: str) -> None:
        super().__init__()
        self.setAccessibleName(name)
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Expanding)

    def describe(self, words: str) -> None:
        """Set the sentence for a screen reader, and paint again."""
        self.setAccessibleDescription(words)
        self.update()

    def draw(self, painter: QPainter, sheet: ColorSheet) -> None:
        """Draw the picture over the whole widget."""
        raise NotImplementedError

    def sizeHint(self) -> QSize:
        return QSize(420, 240)

    def paintEvent(self, _event: QPaintEvent) -> None:
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        painter.setFont(typeface.font(typeface.SMALL))
        self.draw(painter, sheet_in_force())


def mixed(under: QColor, over: QColor, share: float) -> QColor:
    """Return a color between two: 0 is `under`, 1 is `over`."""
    parts = ((under.red(), over.red()), (under.green(), over.green()), (under.blue(), over.blue()))
    red, green, blue = (round(low + (high - low) * share) for low, high in parts)
    return QColor(red, green, blue)


def write(painter: QPainter, box: QRectF, text: str, side: Qt.AlignmentFlag, color: QColor) -> None:
    """Write one line of text in a box, shortened where it is too long."""
    painter.setPen(color)
    fitting = QFontMetricsF(painter.font()).elidedText(text, Qt.TextElideMode.ElideRight, box.width())
    painter.drawText(box, side | Qt.AlignmentFlag.AlignVCenter, fitting)


def line(painter: QPainter, start: QPointF, end: QPointF, color: QColor, *, dashed: bool = False) -> None:
    """Draw a thin line."""
    style = Qt.PenStyle.DashLine if dashed else Qt.PenStyle.SolidLine
    painter.setPen(QPen(color, 1, style))
    painter.drawLine(start, end)
