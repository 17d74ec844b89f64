"""Paint the cells of the batch that are more than text: the small ruler, and the result with its mark."""

from __future__ import annotations

from PySide6.QtCore import QRectF
from PySide6.QtGui import QPainter
from PySide6.QtWidgets import QStyleOptionViewItem

from desk.ui.batch.pieces.model import MARK, OUNCES
from desk.ui.batch.pieces.rows import RULER, VERDICT
from desk.ui.kit.mark import ROLE_OF, paint_mark
from desk.ui.kit.table import DISPLAY, PAD, Index, PlainCells
from desk.ui.trade.ruler import RulerPicture, paint_small_ruler


class PieceCells(PlainCells):
    """Plain cells, except in two columns."""

    def paint(self, painter: QPainter, option: QStyleOptionViewItem, index: Index) -> None:
        """Paint the ruler and the result specially, all else plainly."""
        if index.column() == RULER:
            self._paint_ruler(painter, option, index)
        elif index.column() == VERDICT:
            self._paint_verdict(painter, option, index)
        else:
            super().paint(painter, option, index)

    def room_beside(self, column: int) -> int:
        """Return the pixels of the mark beside the text."""
        return round(self.font.pixelSize() * 0.86) + 6 if column == VERDICT else 0

    def _paint_ruler(self, painter: QPainter, option: QStyleOptionViewItem, index: Index) -> None:
        self.paint_ground(painter, option, RULER)
        ounces = index.data(OUNCES)
        if ounces is not None:
            middle = option.rect.center().y()
            box = QRectF(option.rect.left() + PAD, middle - 9, option.rect.width() - 2 * PAD, 20)
            paint_small_ruler(painter, RulerPicture(float(ounces)), box, self.sheet)

    def _paint_verdict(self, painter: QPainter, option: QStyleOptionViewItem, index: Index) -> None:
        self.paint_ground(painter, option, VERDICT)
        mark = index.data(MARK)
        if mark is None:
            return
        side, box = self.font.pixelSize() * 0.86, option.rect
        paint_mark(painter, mark, QRectF(box.left() + PAD, box.center().y() - side / 2, side, side), self.sheet)
        painter.setPen(self.colors[ROLE_OF[mark]])
        painter.setFont(self.font)
        self.paint_text(painter, box.adjusted(round(side) + 6, 0, 0, 0), index.data(DISPLAY))
