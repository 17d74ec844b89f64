"""A small chart of past readings: a dot for each package, in or out of the range it was expected in."""

from __future__ import annotations

from collections.abc import Sequence

from PySide6.QtCore import QPointF, QRectF, QSize
from PySide6.QtGui import QPainter, QPaintEvent, QPen
from PySide6.QtWidgets import QSizePolicy, QWidget

from desk.session.learned.past_readings import PastReading
from desk.ui.kit import type as typeface
from desk.ui.kit.palette import sheet_in_force
from desk.ui.kit.plain import set_tip

DOT, STEP, INSET = 3.0, 14.0, 8.0  # pixels at 100%


class ReadingsChart(QWidget):
    """The line in the middle is the expectation; a band shows the expected range of each reading."""

    def __init__(self) -> None:
        super().__init__()
        self.setAccessibleName("Past readings against what was expected")
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Fixed)
        self.readings: tuple[PastReading, ...] = ()

    def show_readings(self, readings: Sequence[PastReading], words: str) -> None:
        """Show readings, oldest first; hidden when there are none."""
        self.readings = tuple(readings)
        self.setAccessibleDescription(words)
        set_tip(self, words)
        self.setVisible(bool(self.readings))
        self.update()

    def sizeHint(self) -> QSize:
        return QSize(240, round(54 * typeface.scale()))

    def paintEvent(self, _event: QPaintEvent) -> None:
        painter, sheet = QPainter(self), sheet_in_force()
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        by = typeface.scale()
        middle, reach = self.height() / 2, self.height() / 2 - INSET * by
        most = max(max(abs(one.off_g), one.high_g, -one.low_g) for one in self.readings) if self.readings else 1.0
        step = min(STEP * by, (self.width() - 2 * INSET) / max(len(self.readings), 1))
        for place, one in enumerate(self.readings):
            x = INSET + step * (place + 0.5)
            top, bottom = (middle - side / most * reach for side in (one.high_g, one.low_g))
            painter.fillRect(QRectF(x - step / 2, top, step, bottom - top), sheet.color("hairline"))
        painter.setPen(QPen(sheet.color("soft_ink"), 1))
        painter.drawLine(QPointF(INSET, middle), QPointF(INSET + step * len(self.readings), middle))
        for place, one in enumerate(self.readings):
            ink = sheet.color("ink" if one.is_inside else "look")
            painter.setPen(QPen(ink, 1.5))
            painter.setBrush(ink if one.is_inside else sheet.color("card"))  # hollow: out of range
            spot = QPointF(INSET + step * (place + 0.5), middle - one.off_g / most * reach)
            painter.drawEllipse(spot, DOT * by, DOT * by)
