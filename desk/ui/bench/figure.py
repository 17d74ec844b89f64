"""The figure to write on the package: order number, billed weight and postage, as large as fits."""

from __future__ import annotations

from dataclasses import dataclass

from PySide6.QtCore import QRectF, QSize
from PySide6.QtGui import QFont, QFontMetricsF, QPainter, QPaintEvent
from PySide6.QtWidgets import QSizePolicy, QWidget

from desk.ui.kit import type as typeface
from desk.ui.kit.palette import ColorSheet, sheet_in_force

SMALLEST = 20
LEAST, LEAST_TIGHT = 120, 96  # pixels high
GAP = 24  # pixels between the parts of the second line
LARGE, MOST = 300, 2.0  # pixels at 100% from which the figure grows with its box, and how many times at most


@dataclass(frozen=True, slots=True)
class Figure:
    """Number, billed weight, postage, and the weight. `hint` is shown while there are none."""

    number: str = ""
    ounces: str = ""
    hint: str = ""
    postage: str = ""
    reading: str = ""

    @property
    def words(self) -> str:
        """The figure in words, for a screen reader."""
        if not self.ounces:
            return f"{self.number} {self.hint}".strip()
        return f"{self.number}: {self.reading}, bills as {self.ounces}, {self.postage}"


class FigureBox(QWidget):
    """Paints the figure. The number gets three fifths of the height, billed weight and postage two."""

    def __init__(self) -> None:
        super().__init__()
        self.setAccessibleName("What to write on the package")
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Expanding)
        self.figure = Figure()
        self.is_tight = False

    def show_figure(self, figure: Figure) -> None:
        """Show the figure."""
        if figure != self.figure:
            self.figure = figure
            self.setAccessibleDescription(figure.words)
            self.update()

    def sizeHint(self) -> QSize:
        return QSize(400, self.minimumSizeHint().height())  # spare room is added by stretching

    def minimumSizeHint(self) -> QSize:
        return QSize(200, LEAST_TIGHT if self.is_tight else LEAST)

    def font_for(self, words: str, size: int, box: QRectF) -> QFont:
        """Return the largest font up to that size in which the words fit the box; on a large screen it is larger."""
        growth = min(MOST, max(1.0, self.height() / (LARGE * typeface.scale())))
        made = typeface.font(round(size * growth), bold=True)
        metrics = QFontMetricsF(made)
        high = metrics.capHeight() * 1.3
        share = min(1.0, box.height() / high, box.width() / max(1.0, metrics.horizontalAdvance(words)))
        made.setPixelSize(max(SMALLEST, int(made.pixelSize() * share)))
        return made

    def boxes(self) -> tuple[QRectF, QRectF]:
        """Return the boxes of the number and of the ounces."""
        whole = QRectF(self.rect())
        high = whole.height() * 0.6
        return QRectF(0, 0, whole.width(), high), QRectF(0, high, whole.width(), whole.height() - high)

    def paintEvent(self, _event: QPaintEvent) -> None:
        painter, sheet = QPainter(self), sheet_in_force()
        painter.setRenderHint(QPainter.RenderHint.TextAntialiasing)
        above, below = self.boxes()
        self._paint(painter, above, (self.figure.number, typeface.NUMBER), "ink", sheet)
        if self.figure.ounces:
            self._paint_amounts(painter, below, sheet)
        else:
            where = below if self.figure.number else QRectF(self.rect())
            self._paint(painter, where, (self.figure.hint, typeface.HEAD), "soft_ink", sheet)

    def parts(self) -> tuple[tuple[str, int, str], ...]:
        """Return the second line: text, size and color of the weight, the billed weight, and the postage."""
        figure = self.figure
        before = f"{figure.reading}, bills as" if figure.reading else ""
        parts = ((before, typeface.HEAD, "soft_ink"), (figure.ounces, typeface.OUNCES, "teal"))
        return tuple(part for part in (*parts, (figure.postage, typeface.OUNCES, "ink")) if part[0])

    def amount_fonts(self, box: QRectF) -> list[QFont]:
        """Return the fonts of the second line, as large as its parts fit side by side."""
        parts = self.parts()
        room = box.width() - GAP * (len(parts) - 1)
        fonts = [self.font_for("", size, box) for _, size, _ in parts]
        wide = sum(
            QFontMetricsF(font).horizontalAdvance(words) for font, (words, _, _) in zip(fonts, parts, strict=True)
        )
        if wide > room:
            for font, (_, size, _) in zip(fonts, parts, strict=True):
                least = SMALLEST if size > typeface.HEAD else SMALLEST // 2
                font.setPixelSize(max(least, int(font.pixelSize() * room / wide)))
        return fonts

    def _paint_amounts(self, painter: QPainter, box: QRectF, sheet: ColorSheet) -> None:
        fonts, parts = self.amount_fonts(box), self.parts()
        widths = [
            QFontMetricsF(font).horizontalAdvance(words) for font, (words, _, _) in zip(fonts, parts, strict=True)
        ]
        left = box.center().x() - (sum(widths) + GAP * (len(parts) - 1)) / 2
        baseline = box.center().y() + max(QFontMetricsF(font).capHeight() for font in fonts) / 2
        for font, width, (words, _, role) in zip(fonts, widths, parts, strict=True):
            painter.setFont(font)
            painter.setPen(sheet.color(role))
            painter.drawText(int(left), int(baseline), words)
            left += width + GAP

    def _paint(self, painter: QPainter, box: QRectF, text: tuple[str, int], role: str, sheet: ColorSheet) -> None:
        words, size = text
        font = self.font_for(words, size, box)
        capital = QFontMetricsF(font).capHeight()
        painter.setFont(font)
        painter.setPen(sheet.color(role))
        width = QFontMetricsF(font).horizontalAdvance(words)
        baseline = box.center().y() + capital / 2
        painter.drawText(int(box.center().x() - width / 2), int(baseline), words)
