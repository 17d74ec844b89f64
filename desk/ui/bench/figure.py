"""The one big thing: what to write on it. Order number, then billable ounces, as large as there is room."""

from __future__ import annotations

from dataclasses import dataclass

from PySide6.QtCore import QRectF, QSize
from PySide6.QtGui import QFont, QFontMetricsF, QPainter, QPaintEvent
from PySide6.QtWidgets import QSizePolicy, QWidget

from desk.ui.kit import type as typeface
from desk.ui.kit.palette import Sheet, sheet_in_force

SMALLEST = 20


@dataclass(frozen=True, slots=True)
class Figure:
    """Number and ounces. `hint` stands in the place of the ounces while there are none."""

    number: str = ""
    ounces: str = ""
    hint: str = ""


class FigureBox(QWidget):
    """Paints the figure. The number takes three parts of the height, the ounces two."""

    def __init__(self) -> None:
        super().__init__()
        self.setAccessibleName("What to write on it")
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Expanding)
        self.figure = Figure()

    def show_figure(self, figure: Figure) -> None:
        """Show it."""
        if figure != self.figure:
            self.figure = figure
            self.setAccessibleDescription(f"{figure.number} {figure.ounces or figure.hint}")
            self.update()

    def sizeHint(self) -> QSize:
        return QSize(400, self.minimumSizeHint().height())  # what room there is more of comes by stretch

    def minimumSizeHint(self) -> QSize:
        return QSize(200, 130)

    def font_for(self, words: str, size: int, box: QRectF) -> QFont:
        """The largest font up to that size in which the words fit into the box."""
        made = typeface.font(size, bold=True)
        metrics = QFontMetricsF(made)
        high = metrics.capHeight() * 1.3
        share = min(1.0, box.height() / high, box.width() / max(1.0, metrics.horizontalAdvance(words)))
        made.setPixelSize(max(SMALLEST, int(made.pixelSize() * share)))
        return made

    def boxes(self) -> tuple[QRectF, QRectF]:
        """Where the number and the ounces stand."""
        whole = QRectF(self.rect())
        high = whole.height() * 0.6
        return QRectF(0, 0, whole.width(), high), QRectF(0, high, whole.width(), whole.height() - high)

    def paintEvent(self, _event: QPaintEvent) -> None:
        painter, sheet = QPainter(self), sheet_in_force()
        painter.setRenderHint(QPainter.RenderHint.TextAntialiasing)
        above, below = self.boxes()
        self._paint(painter, above, (self.figure.number, typeface.NUMBER), "ink", sheet)
        if self.figure.ounces:
            self._paint(painter, below, (self.figure.ounces, typeface.OUNCES), "teal", sheet)
        else:
            where = below if self.figure.number else QRectF(self.rect())
            self._paint(painter, where, (self.figure.hint, typeface.HEAD), "soft_ink", sheet)

    def _paint(self, painter: QPainter, box: QRectF, text: tuple[str, int], role: str, sheet: Sheet) -> None:
        words, size = text
        font = self.font_for(words, size, box)
        capital = QFontMetricsF(font).capHeight()
        painter.setFont(font)
        painter.setPen(sheet.colour(role))
        width = QFontMetricsF(font).horizontalAdvance(words)
        baseline = box.center().y() + capital / 2
        painter.drawText(int(box.center().x() - width / 2), int(baseline), words)
