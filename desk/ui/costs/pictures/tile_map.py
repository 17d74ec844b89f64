"""A tile map: one square for each state, darker where more packages went, each with its number."""

from __future__ import annotations

from collections.abc import Mapping

from PySide6.QtCore import QRectF, QSize, Qt
from PySide6.QtGui import QColor, QFont, QPainter

from desk.session.words.figures import number_in_words
from desk.ui.costs.pictures.picture import CENTER, LEFT, Picture, mixed, write
from desk.ui.costs.pictures.state_tiles import COLUMNS, ROWS, TILES
from desk.ui.kit import type as typeface
from desk.ui.kit.palette import ColorSheet

SHADES = (0.0, 0.14, 0.3, 0.9, 1.0)  # of teal; between 0.3 and 0.9 neither ink nor paper could be read on it
DARK_FROM = 3  # the first shade that is written on in the card's color
LIMITS = (0.0, 0.1, 0.3, 0.6)  # of the largest number: above each, the next shade
FOR_A_CODE, LEGEND = 2.4, 2.0  # sizes of type: the side of a tile, and the height of the legend
LEAST_FOR_TWO = 2.3  # lines of text in a tile that has room for its number


class TileMap(Picture):
    """The numbers by state code; states without a tile are only in the table."""

    def __init__(self) -> None:
        super().__init__("Packages by state")
        self.counts: Mapping[str, int] = {}

    def show_counts(self, counts: Mapping[str, int], words: str) -> None:
        """Show these numbers."""
        self.counts = counts
        self.describe(words)

    def minimumSizeHint(self) -> QSize:
        """Return the size at which every tile has room for its code in the type of all pictures."""
        side, high = FOR_A_CODE * typeface.SMALL * typeface.scale(), LEGEND * typeface.SMALL * typeface.scale()
        return QSize(round(COLUMNS * side), round(ROWS * side + high))

    def draw(self, painter: QPainter, sheet: ColorSheet) -> None:
        """Draw one square for each state, and what the shades mean."""
        high = painter.fontMetrics().height() * 1.3
        side = min(self.width() / COLUMNS, (self.height() - high) / ROWS)
        left, most = (self.width() - side * COLUMNS) / 2, max(self.counts.values(), default=0)
        font = QFont(painter.font())
        font.setPixelSize(max(7, min(font.pixelSize(), round(side / 2.6))))
        painter.setFont(font)
        for code, (column, row) in TILES.items():
            box = QRectF(left + column * side + 1, row * side + 1, side - 2, side - 2)
            self._tile(painter, sheet, box, code, shade_of(self.counts.get(code, 0), most))
        self._legend(painter, sheet, QRectF(left, ROWS * side, side * COLUMNS, painter.fontMetrics().height() * 1.3))

    def _tile(self, painter: QPainter, sheet: ColorSheet, box: QRectF, code: str, shade: int) -> None:
        count = self.counts.get(code, 0)
        fill, ink = colors_of(sheet, shade)
        painter.setPen(sheet.color("hairline"))
        painter.setBrush(fill)
        painter.drawRoundedRect(box, 3, 3)
        painter.setBrush(Qt.BrushStyle.NoBrush)
        ink = ink if count else sheet.color("soft_ink")
        if count and box.height() >= LEAST_FOR_TWO * painter.fontMetrics().ascent():
            half = QRectF(box.left(), box.top(), box.width(), box.height() / 2)
            write(painter, half, code, CENTER, ink)
            write(painter, half.translated(0, half.height()), number_in_words(count), CENTER, ink)
        else:
            write(painter, box, code, CENTER, ink)

    def _legend(self, painter: QPainter, sheet: ColorSheet, box: QRectF) -> None:
        side = box.height() * 0.6
        write(painter, QRectF(box.left(), box.top(), 5 * side, box.height()), "fewer", LEFT, sheet.color("soft_ink"))
        at = box.left() + painter.fontMetrics().horizontalAdvance("fewer ") + 4
        painter.setPen(sheet.color("hairline"))
        for shade in range(1, len(SHADES)):
            painter.setBrush(colors_of(sheet, shade)[0])
            painter.drawRect(QRectF(at, box.center().y() - side / 2, side, side))
            at += side + 2
        painter.setBrush(Qt.BrushStyle.NoBrush)
        write(painter, QRectF(at + 4, box.top(), 5 * side, box.height()), "more", LEFT, sheet.color("soft_ink"))


def shade_of(count: int, most: int) -> int:
    """Return the shade of a number: 0 for none, and up to 4 for the largest."""
    return sum(count > limit * most for limit in LIMITS) if most else 0


def colors_of(sheet: ColorSheet, shade: int) -> tuple[QColor, QColor]:
    """Return the fill of a shade, and the ink that can be read on it."""
    fill = mixed(sheet.color("card"), sheet.color("teal"), SHADES[shade])
    return fill, sheet.color("card" if shade >= DARK_FROM else "ink")
