"""Paint the cells of the batch that are more than text: the small ruler, and the result with its mark."""

from __future__ import annotations

from PySide6.QtCore import QRect, QRectF
from PySide6.QtGui import QPainter
from PySide6.QtWidgets import QStyleOptionViewItem, QTableView

from desk.ui.batch.pieces.model import MARK, OUNCES
from desk.ui.batch.pieces.rows import BILLABLE, POSTAGE, RULER, STATUS, VERDICT
from desk.ui.kit.mark import ROLE_OF, paint_mark
from desk.ui.kit.table import DISPLAY, PAD, Index, PlainCells, paint_pair
from desk.ui.kit.two_lines import cut
from desk.ui.trade.ruler import RulerPicture, paint_small_ruler

BELOW = (BILLABLE, POSTAGE, STATUS)


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
        room, words, below = box.adjusted(round(side) + 6, 0, 0, 0), index.data(DISPLAY), self._left_out(index)
        if below and super().lines_for(index, box.height()) > 1:
            self._paint_both(painter, room.adjusted(PAD, 0, -PAD, 0), words, below)
        else:
            self.paint_text(painter, room, words)

    def lines_for(self, index: Index, height: int) -> int:
        """Return how many lines of a text a cell shows: one for a result with figures below it."""
        return 1 if index.column() == VERDICT and self._left_out(index) else super().lines_for(index, height)

    def _left_out(self, index: Index) -> str:
        """Return the figures whose columns are left out, to go below the result."""
        table = self.parent()
        assert isinstance(table, QTableView)
        texts = (index.sibling(index.row(), column).data() for column in BELOW if table.isColumnHidden(column))
        return " · ".join(filter(None, texts))

    def _paint_both(self, painter: QPainter, room: QRect, words: str, below: str) -> None:
        """Paint the result in the upper half of its cell, and what is below it in soft ink."""
        advance = painter.fontMetrics().horizontalAdvance
        paint_pair(painter, room, cut(words, room.width(), advance), "")
        painter.setPen(self.colors["soft_ink"])
        paint_pair(painter, room, "", cut(below, room.width(), advance))
