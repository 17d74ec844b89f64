"""Stamps drawn as perforated squares with what they count for."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from PySide6.QtCore import QRectF, QSize, Qt
from PySide6.QtGui import QFont, QFontMetrics, QPainter, QPaintEvent, QPen
from PySide6.QtWidgets import QSizePolicy, QWidget

from desk.ui.kit import type as typeface
from desk.ui.kit.palette import sheet_in_force

SIDE = 56  # pixels at 100%


@dataclass(frozen=True, slots=True)
class StampPicture:
    """The text on a drawn stamp: `1` or `+1` or `$1`, and a word below it."""

    counts_for: str
    words: str


class StampRow(QWidget):
    """A row of drawn stamps of that side in pixels at 100%."""

    def __init__(self, parent: QWidget | None = None, side: int = SIDE) -> None:
        super().__init__(parent)
        self._drawn_side = side
        self._stamps: tuple[StampPicture, ...] = ()
        self.setSizePolicy(QSizePolicy.Policy.Fixed, QSizePolicy.Policy.Fixed)
        self.setAccessibleName("Stamps")

    def show_stamps(self, stamps: Sequence[StampPicture]) -> None:
        """Show these stamps, in this order."""
        self._stamps = tuple(stamps)
        self.setAccessibleDescription(", ".join(f"{stamp.counts_for} {stamp.words}" for stamp in stamps))
        self.updateGeometry()
        self.update()

    def sizeHint(self) -> QSize:
        side, gap = self._side(), self._gap()
        return QSize(max(0, len(self._stamps) * (side + gap) - gap), side)

    def paintEvent(self, _event: QPaintEvent) -> None:
        painter = QPainter(self)
        sheet, side = sheet_in_force(), self._side()
        for place, stamp in enumerate(self._stamps):
            box = QRectF(place * (side + self._gap()) + 1, 1, side - 2, side - 2)
            painter.setPen(QPen(sheet.color("ink"), 1.5, Qt.PenStyle.DotLine))
            painter.drawRect(box)
            painter.setPen(sheet.color("ink"))
            painter.setFont(self._count_font(stamp.counts_for, side))
            above = box.adjusted(0, 0, 0, -side * 0.4) if stamp.words else box
            painter.drawText(above, Qt.AlignmentFlag.AlignCenter, stamp.counts_for)
            painter.setPen(sheet.color("soft_ink"))
            painter.setFont(_fitting(stamp.words, box.width() - 6))
            low = box.adjusted(2, side * 0.5, -2, -2)
            painter.drawText(low, int(Qt.AlignmentFlag.AlignCenter) | int(Qt.TextFlag.TextWordWrap), stamp.words)

    def _count_font(self, words: str, side: int) -> QFont:
        """Return the font of the count, as large as fits."""
        made = typeface.font(round((typeface.STRONG + 3) * self._drawn_side / SIDE), bold=True)
        wide = QFontMetrics(made).horizontalAdvance(words)
        made.setPixelSize(max(1, int(made.pixelSize() * min(1.0, side * 0.85 / max(1, wide)))))
        return made

    def _side(self) -> int:
        return round(self._drawn_side * typeface.scale())

    def _gap(self) -> int:
        return round(10 * typeface.scale())


def _fitting(words: str, width: float) -> QFont:
    """Return the small font, or a smaller one for a long word; two words go on two lines."""
    made = typeface.font(typeface.SMALL - (3 if " " in words else 1))
    metrics = QFontMetrics(made)
    longest = max((metrics.horizontalAdvance(word) for word in words.split()), default=1)
    share = min(1.0, width / max(1, longest))
    made.setPixelSize(max(1, int(made.pixelSize() * share)))
    return made
