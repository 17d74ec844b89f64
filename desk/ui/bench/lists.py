"""The lists beside the figure: what comes next, and what was weighed last."""

from __future__ import annotations

from collections.abc import Sequence

from PySide6.QtCore import QRect, QRectF, QSize, Qt, Signal
from PySide6.QtGui import QFontMetrics, QPainter, QPaintEvent
from PySide6.QtWidgets import QAbstractButton, QSizePolicy, QVBoxLayout, QWidget

from desk.ui.bench.model import LastRow, NextRow
from desk.ui.kit import type as typeface
from desk.ui.kit.mark import ROLE_OF, paint_mark
from desk.ui.kit.palette import sheet_in_force
from desk.ui.kit.plain import set_tip
from desk.ui.trade.shapes import paint_shape

LINE = Qt.AlignmentFlag.AlignVCenter | Qt.TextFlag.TextSingleLine


class PieceRow(QAbstractButton):
    """A piece in a list; pressing it opens the piece."""

    HIGH = 36

    def __init__(self, row: NextRow | LastRow) -> None:
        super().__init__()
        self.row = row
        self.setCursor(Qt.CursorShape.PointingHandCursor)
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Fixed)
        self.setFocusPolicy(Qt.FocusPolicy.TabFocus)
        words = (row.to, "check" if row.is_check else "") if isinstance(row, NextRow) else (row.figure, row.status)
        self.setAccessibleName(" ".join(filter(None, (row.number, *words))))
        set_tip(self, self.accessibleName())

    def sizeHint(self) -> QSize:
        return QSize(200, round(self.HIGH * typeface.scale()))

    def paint_cut(self, painter: QPainter, box: QRect, words: str) -> None:
        """Paint one line, cut with an ellipsis where it doesn't fit; the tooltip has all of it."""
        painter.drawText(box, LINE, painter.fontMetrics().elidedText(words, Qt.TextElideMode.ElideRight, box.width()))

    def paint_focus(self, painter: QPainter) -> None:
        """Paint a frame around the row with the focus or under the pointer."""
        if self.hasFocus() or self.underMouse():
            painter.setPen(sheet_in_force().color("teal" if self.hasFocus() else "hairline"))
            painter.drawRoundedRect(self.rect().adjusted(0, 0, -1, -1), 4, 4)


class _Next(PieceRow):
    HIGH = 36

    def paintEvent(self, _event: QPaintEvent) -> None:
        painter, sheet, row = QPainter(self), sheet_in_force(), self.row
        assert isinstance(row, NextRow)
        self.paint_focus(painter)
        high, left = self.height(), round(28 * typeface.scale())
        paint_shape(painter, row.shape, QRectF(2, (high - left) / 2, left, left), sheet.color("soft_ink"))
        bold = typeface.font(typeface.STRONG, bold=True)
        number = QFontMetrics(bold).horizontalAdvance(row.number)
        painter.setFont(bold)
        painter.setPen(sheet.color("ink"))
        painter.drawText(QRect(left + 14, 0, number + 2, high), LINE, row.number)
        painter.setFont(typeface.font(typeface.BODY))
        painter.setPen(sheet.color("look" if row.is_check else "soft_ink"))
        words = f"check: {row.to}" if row.is_check else row.to
        self.paint_cut(painter, QRect(left + 26 + number, 0, self.width() - left - 26 - number, high), words)


class _Last(PieceRow):
    HIGH = 32

    def __init__(self, row: LastRow, figure: int) -> None:
        """`figure` is the width of the widest billed weight in the list, in pixels."""
        super().__init__(row)
        self._figure = figure

    def paintEvent(self, _event: QPaintEvent) -> None:
        painter, sheet, row = QPainter(self), sheet_in_force(), self.row
        assert isinstance(row, LastRow)
        self.paint_focus(painter)
        high, scale = self.height(), typeface.scale()
        painter.setPen(sheet.color("ink"))
        painter.setFont(typeface.font(typeface.STRONG - 1))
        number = painter.fontMetrics().horizontalAdvance(row.number)
        second, side = max(round(60 * scale), number + 14), round(12 * scale)
        third = second + max(round(44 * scale), self._figure + 12)
        self.paint_cut(painter, QRect(2, 0, second - 6, high), row.number)
        painter.setFont(typeface.font(typeface.STRONG - 1, bold=True))
        self.paint_cut(painter, QRect(second, 0, third - second - 4, high), row.figure)
        paint_mark(painter, row.mark, QRectF(third, (high - side) / 2, side, side), sheet)
        painter.setPen(sheet.color(ROLE_OF[row.mark]))
        painter.setFont(typeface.font(typeface.BODY))
        left = third + side + 6
        room = self.width() - left
        fits = painter.fontMetrics().horizontalAdvance(row.status) <= room
        self.paint_cut(painter, QRect(left, 0, room, high), row.status if fits else row.short_status)


class RowList(QWidget):
    """Rows in a column, rebuilt only when they change."""

    opened = Signal(int)

    def __init__(self, name: str) -> None:
        super().__init__()
        self.setAccessibleName(name)
        self._column = QVBoxLayout(self)
        self._column.setContentsMargins(0, 0, 0, 0)
        self._column.setSpacing(0)
        self.rows: tuple[NextRow | LastRow, ...] = ()
        self.buttons: list[PieceRow] = []
        self._most: int | None = None

    def show_most(self, most: int | None) -> None:
        """Show at most that many rows; None: all."""
        self._most = most
        for place, button in enumerate(self.buttons):
            button.setVisible(most is None or place < most)

    def show_rows(self, rows: Sequence[NextRow | LastRow]) -> None:
        """Show these rows."""
        if tuple(rows) == self.rows:
            return
        self.rows = tuple(rows)
        for button in self.buttons:
            self._column.removeWidget(button)
            button.hide()
            button.deleteLater()
        bold = QFontMetrics(typeface.font(typeface.STRONG - 1, bold=True))
        figure = max((bold.horizontalAdvance(row.figure) for row in rows if isinstance(row, LastRow)), default=0)
        self.buttons = [_Next(row) if isinstance(row, NextRow) else _Last(row, figure) for row in rows]
        for button in self.buttons:
            button.clicked.connect(lambda _checked=False, piece=button.row.piece_id: self.opened.emit(piece))
            self._column.addWidget(button)
        self.show_most(self._most)
