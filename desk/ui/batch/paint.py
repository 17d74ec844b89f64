"""How the cells of the batch are painted that are more than text: the small ruler, and the verdict with its mark."""

from __future__ import annotations

from PySide6.QtCore import QRectF
from PySide6.QtGui import QPainter
from PySide6.QtWidgets import QStyleOptionViewItem

from desk.ui.batch.model import MARK, OUNCES
from desk.ui.batch.rows import RULER, VERDICT
from desk.ui.kit import type as typeface
from desk.ui.kit.mark import ROLE_OF, paint_mark
from desk.ui.kit.palette import sheet_in_force
from desk.ui.kit.ruler import RulerPicture, paint_small_ruler
from desk.ui.kit.table import DISPLAY, PAD, Index, PlainCells


class PieceCells(PlainCells):
    """Plain cells, but for two columns."""

    def paint(self, painter: QPainter, option: QStyleOptionViewItem, index: Index) -> None:
        if index.column() == RULER:
            self._paint_ruler(painter, option, index)
        elif index.column() == VERDICT:
            self._paint_verdict(painter, option, index)
        else:
            super().paint(painter, option, index)

    def _paint_ruler(self, painter: QPainter, option: QStyleOptionViewItem, index: Index) -> None:
        sheet = sheet_in_force()
        self.paint_ground(painter, option, index, sheet)
        ounces = index.data(OUNCES)
        if ounces is not None:
            middle = option.rect.center().y()
            box = QRectF(option.rect.left() + PAD, middle - 9, option.rect.width() - 2 * PAD, 20)
            paint_small_ruler(painter, RulerPicture(ounces), box, sheet)

    def _paint_verdict(self, painter: QPainter, option: QStyleOptionViewItem, index: Index) -> None:
        sheet = sheet_in_force()
        self.paint_ground(painter, option, index, sheet)
        mark = index.data(MARK)
        if not mark:
            return
        side, box = round(12 * typeface.scale()), option.rect
        paint_mark(painter, mark, QRectF(box.left() + PAD, box.center().y() - side / 2, side, side), sheet)
        painter.setPen(sheet.colour(ROLE_OF[mark]))
        painter.setFont(typeface.font(typeface.BODY))
        self.paint_text(painter, box.adjusted(side + 6, 0, 0, 0), str(index.data(DISPLAY)))
