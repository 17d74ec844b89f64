"""A plain table for very many rows: all rows equally high, text already made, little computed while painting.

Rows are one line high, and two where a text would be cut. The model filters and sorts; the table forwards typed digits and letters instead of searching itself.
"""

from __future__ import annotations

import heapq
from collections.abc import Iterable, Sequence
from dataclasses import replace
from itertools import groupby

from PySide6.QtCore import (
    QAbstractItemModel,
    QEvent,
    QItemSelection,
    QItemSelectionModel,
    QMetaMethod,
    QModelIndex,
    QPersistentModelIndex,
    QRect,
    QSize,
    Qt,
    Signal,
)
from PySide6.QtGui import QFontMetrics, QKeyEvent, QPainter, QPaintEvent, QResizeEvent
from PySide6.QtWidgets import (
    QAbstractItemView,
    QFrame,
    QHeaderView,
    QStyle,
    QStyledItemDelegate,
    QStyleOptionViewItem,
    QTableView,
    QWidget,
)

from desk.ui.kit import type as typeface
from desk.ui.kit.column_widths import ColumnRule
from desk.ui.kit.palette import ROLES, sheet_in_force
from desk.ui.kit.two_lines import in_two_lines

Index = QModelIndex | QPersistentModelIndex
SelectionFlag = QItemSelectionModel.SelectionFlag
DISPLAY, ALIGN = int(Qt.ItemDataRole.DisplayRole), int(Qt.ItemDataRole.TextAlignmentRole)
BESIDE = int(Qt.ItemDataRole.UserRole) + 8  # a short remark on a figure, painted in soft ink before it
ACCESSIBLE, TIP = int(Qt.ItemDataRole.AccessibleTextRole), int(Qt.ItemDataRole.ToolTipRole)
LEFT = int(Qt.AlignmentFlag.AlignLeft | Qt.AlignmentFlag.AlignVCenter) | int(Qt.TextFlag.TextSingleLine)
RIGHT = int(Qt.AlignmentFlag.AlignRight | Qt.AlignmentFlag.AlignVCenter) | int(Qt.TextFlag.TextSingleLine)
PAD = 8
CANDIDATES = 100  # longest texts by letters, of which the widest counts
MEASURED = 300  # rows whose texts decide how wide a column is
ROW, LOW_ROW = 36, 24  # pixels at 100%, the second where few rows are in sight
ROWS = 5  # rows are low where fewer would be in sight
PAIRS = 4  # rows stay one line high where fewer of two lines would be in sight
HEADS = f"""QHeaderView {{ background: palette(base); }}
QHeaderView::section {{ background: palette(base); color: palette(placeholder-text); border: none;
  border-bottom: 1px solid palette(mid); padding: 4px {PAD}px; }}"""


class PlainCells(QStyledItemDelegate):
    """Paints a cell with one text; the first column is bold, and a bar at its left marks a selected row.

    `begin` looks up colors and fonts once per repaint, since a full table paints hundreds of cells.
    """

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.begin()

    def begin(self) -> None:
        """Look up what all cells of one repaint share."""
        self.sheet = sheet_in_force()
        self.font, self.bold = typeface.font(typeface.BODY), typeface.font(typeface.BODY, bold=True)
        self.small = typeface.font(typeface.SMALL)
        self.colors = {role: self.sheet.color(role) for role in ROLES}
        self._broad = QFontMetrics(self.bold).averageCharWidth() * 2

    def room_beside(self, column: int) -> int:  # noqa: ARG002 - for those who paint more
        """Return the pixels that a column's cells take beside their text, such as for a mark."""
        return 0

    def lines_for(self, index: Index, height: int) -> int:  # noqa: ARG002 - for those who paint more
        """Return how many lines of a text a cell of that height shows."""
        return 2 if height >= 2 * QFontMetrics(self.font).height() else 1

    def shows_whole(self, index: Index, size: QSize) -> bool:
        """Return whether a cell of that size shows its whole text."""
        words, advance = str(index.data() or ""), QFontMetrics(self.font).horizontalAdvance
        room = size.width() - 2 * PAD - self.room_beside(index.column())
        if self.lines_for(index, size.height()) == 1:
            return advance(words) <= room
        return " ".join(filter(None, in_two_lines(words, room, advance))) == words

    def paint(self, painter: QPainter, option: QStyleOptionViewItem, index: Index) -> None:
        """Paint one cell."""
        column = index.column()
        self.paint_ground(painter, option, column)
        words = index.data(DISPLAY)
        if words:
            side = index.data(ALIGN) or LEFT
            painter.setPen(self.colors["ink"])
            painter.setFont(self.font if column else self.bold)
            self.paint_text(painter, option.rect, words, side)
            if side != LEFT and (beside := index.data(BESIDE)):
                # The remark may start at the cell's edge: the cell to its left keeps its own distance.
                room = option.rect.adjusted(-PAD, 0, -painter.fontMetrics().horizontalAdvance(words) - PAD, 0)
                painter.setPen(self.colors["soft_ink"])
                painter.setFont(self.small)
                self.paint_text(painter, room, beside, side)

    def paint_ground(self, painter: QPainter, option: QStyleOptionViewItem, column: int) -> None:
        """Paint the background and bar of a selected row, and the frame of the focused cell."""
        state = option.state
        if state & QStyle.StateFlag.State_Selected:
            box: QRect = option.rect
            painter.fillRect(box, self.colors["hairline"])
            if column == 0:
                painter.fillRect(QRect(box.left(), box.top(), 4, box.height()), self.colors["teal"])
        if state & QStyle.StateFlag.State_HasFocus:
            painter.setPen(self.colors["teal"])
            painter.drawRect(option.rect.adjusted(0, 0, -1, -1))

    def paint_text(self, painter: QPainter, box: QRect, words: str, side: int = LEFT) -> None:
        """Paint a text in one line, in two where it is too long and the row is high enough; the rest is cut."""
        room = box.adjusted(PAD, 0, -PAD, 0)
        if len(words) * self._broad <= room.width():
            painter.drawText(room, side, words)
            return
        metrics = painter.fontMetrics()
        if room.height() >= 2 * metrics.height():
            first, second = in_two_lines(words, room.width(), metrics.horizontalAdvance)
            if second:
                paint_pair(painter, room, first, second, side)
                return
        painter.drawText(room, side, metrics.elidedText(words, Qt.TextElideMode.ElideRight, room.width()))


def paint_pair(painter: QPainter, room: QRect, first: str, second: str, side: int = LEFT) -> None:
    """Paint two lines, one above the other, in the middle of the room."""
    high = painter.fontMetrics().height()
    top = room.center().y() - high
    painter.drawText(QRect(room.left(), top, room.width(), high), side, first)
    painter.drawText(QRect(room.left(), top + high, room.width(), high), side, second)


class PlainTable(QTableView):
    """The table. `typed`: a key with text that nothing else used; `entered_row`: Enter or a double click on a row."""

    typed = Signal(str)
    entered_row = Signal(int)
    room_shared = Signal()  # columns or rows may have another size now

    def __init__(self, name: str, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._rule = ColumnRule()
        self._first_width = 0
        self._row = max(ROW, round(ROW * typeface.scale()))
        self.setAccessibleName(name)
        self.setFrameShape(QFrame.Shape.NoFrame)
        self.setShowGrid(False)
        self.setWordWrap(False)
        self.setTabKeyNavigation(False)
        self.setSelectionBehavior(QAbstractItemView.SelectionBehavior.SelectRows)
        self.setSelectionMode(QAbstractItemView.SelectionMode.ExtendedSelection)
        self.setEditTriggers(QAbstractItemView.EditTrigger.NoEditTriggers)
        self.setItemDelegate(PlainCells(self))
        self.setHorizontalScrollMode(QAbstractItemView.ScrollMode.ScrollPerPixel)
        rows = self.verticalHeader()
        rows.hide()
        rows.setSectionResizeMode(QHeaderView.ResizeMode.Fixed)
        rows.setDefaultSectionSize(self._row)
        heads = self.horizontalHeader()
        heads.setFont(typeface.font(typeface.SMALL, bold=True))
        heads.setHighlightSections(False)
        heads.setStyleSheet(HEADS)
        heads.setDefaultAlignment(Qt.AlignmentFlag.AlignLeft | Qt.AlignmentFlag.AlignVCenter)
        self.doubleClicked.connect(lambda index: self.entered_row.emit(index.row()))

    def changeEvent(self, event: QEvent) -> None:
        """Reapply the header's style sheet on a palette change, since Qt keeps its first colors."""
        super().changeEvent(event)
        if event.type() is QEvent.Type.PaletteChange:
            self.horizontalHeader().setStyleSheet(HEADS)

    def set_widths(
        self,
        pixels: Sequence[int],
        dropped_first: Sequence[int] = (),
        grows: Sequence[int] = (),
        fits: Sequence[int] = (),
        yields: Sequence[int] = (),
    ) -> None:
        """Set column widths in pixels at 100%.

        Columns are dropped in the order of `dropped_first` where there is no room for all; the columns of `grows` have
        long texts, and share the room the others leave. Those of `fits` are as wide as their texts; those of `yields` are left out where texts would be cut.
        """
        widths = [round(width * typeface.scale()) for width in pixels]
        self._rule = ColumnRule(widths, dropped_first, grows, fits, yields)
        self._first_width = widths[0]
        for column, width in enumerate(widths):
            self.setColumnWidth(column, width)

    def fit_first_column(self, texts: Iterable[str]) -> None:
        """Widen the first column to its longest text, to at most twice its usual width."""
        metrics, usual = QFontMetrics(typeface.font(typeface.BODY, bold=True)), self._first_width
        long = heapq.nlargest(CANDIDATES, texts, key=len)  # measuring 10,000 texts would take 20 ms
        longest = max(map(metrics.horizontalAdvance, long), default=0) + 2 * PAD + 2
        width = min(max(usual, longest), 2 * usual)
        if width != self._rule.widths[0]:
            self._rule = replace(self._rule, widths=(width, *self._rule.widths[1:]))
            self.setColumnWidth(0, width)
            self._share_room()

    def setModel(self, model: QAbstractItemModel | None) -> None:
        super().setModel(model)
        if model is not None:
            # Titles would ask for each row of their column whether it is selected: 0.2 s a paint for 10,000 rows.
            heads = self.horizontalHeader()
            heads.setSelectionModel(QItemSelectionModel(model, heads))
            model.modelReset.connect(self._measure)
            model.dataChanged.connect(self._measure)

    def _measure(self) -> None:
        """Note what the longest texts of the growing columns take, never less than before: columns don't jump."""
        model, cells, before = self.model(), self.itemDelegate(), self._rule.needs
        metrics, needs = QFontMetrics(typeface.font(typeface.BODY)), dict(before)
        for column in (*self._rule.grows, *self._rule.fits):
            cells_of = [model.index(row, column) for row in range(min(model.rowCount(), MEASURED))]
            texts = {str(index.data() or "") for index in cells_of}
            if column in self._rule.fits:
                texts |= {f"{index.data()}{remark}  " for index in cells_of if (remark := index.data(BESIDE))}
            longest = max(map(metrics.horizontalAdvance, heapq.nlargest(3, texts, key=len)), default=0)
            beside = cells.room_beside(column) if isinstance(cells, PlainCells) else 0
            head = self.horizontalHeader().sectionSizeFromContents(column).width()
            needs[column] = max(needs.get(column, 0), longest + 2 * PAD + 2 + beside, head)
        if needs != before:
            self._rule = replace(self._rule, needs=needs)
            self._share_room()

    def resizeEvent(self, event: QResizeEvent) -> None:
        super().resizeEvent(event)
        self._share_room()

    def _share_room(self) -> None:
        room = self.viewport().width()
        dropped = self._rule.dropped(room)
        for column in {*self._rule.dropped_first, *self._rule.yields}:
            if (column in dropped) != self.isColumnHidden(column):
                self.setColumnHidden(column, column in dropped)
        for column in self._rule.fits:
            self.setColumnWidth(column, self._rule.start(column))
        for two_lines in (False, True):
            if not two_lines or self._is_two_lines():
                for column, width in self._rule.shares(room, two_lines=two_lines).items():
                    self.setColumnWidth(column, width)
                self._set_row_height()
        self.room_shared.emit()

    def _set_row_height(self) -> None:
        """Make rows two lines high where a text would be cut, low where there is little room, else as usual."""
        high, room = QFontMetrics(typeface.font(typeface.BODY)).height(), self.viewport().height()
        row = self._row if room >= ROWS * self._row else max(round(LOW_ROW * typeface.scale()), high + 2)
        pair = max(row, 2 * high + 4)
        wanted = pair if room >= PAIRS * pair and any(map(self._is_cut, self._rule.grows)) else row
        if wanted != self.verticalHeader().defaultSectionSize():
            self.verticalHeader().setDefaultSectionSize(wanted)

    def _is_two_lines(self) -> bool:
        """Return whether the rows are high enough for two lines of text."""
        return self.verticalHeader().defaultSectionSize() >= 2 * QFontMetrics(typeface.font(typeface.BODY)).height()

    def _is_cut(self, column: int) -> bool:
        """Return whether one line is too short for a text of the column."""
        return not self.isColumnHidden(column) and self._rule.needs.get(column, 0) > self.columnWidth(column)

    def cut_texts(self, row: int) -> list[str]:
        """Return the texts of a row that are not seen whole: their column is left out, or the cell is too small."""
        cells, model = self.itemDelegate(), self.model()
        assert isinstance(cells, PlainCells)
        return [
            words
            for column in range(1, model.columnCount())
            if (words := str(model.index(row, column).data() or ""))
            and (self.isColumnHidden(column) or not cells.shows_whole(model.index(row, column), self._size_of(column)))
        ]

    def _size_of(self, column: int) -> QSize:
        return QSize(self.columnWidth(column), self.verticalHeader().defaultSectionSize())

    def chosen_rows(self) -> list[int]:
        """Return the selected rows, in order; by runs, since ten thousand indexes take 0.1 s."""
        runs = self.selectionModel().selection().toList()
        return sorted({row for run in runs for row in range(run.top(), run.bottom() + 1)})

    def choose_rows(self, rows: Sequence[int]) -> None:
        """Select just these rows, given in order, and scroll to the first."""
        model, selection = self.model(), QItemSelection()
        last = model.columnCount() - 1
        for _, run in groupby(enumerate(rows), lambda one: one[1] - one[0]):  # rows without a gap are one run
            rows_in_run = [row for _, row in run]
            selection.select(model.index(rows_in_run[0], 0), model.index(rows_in_run[-1], last))
        choosing = self.selectionModel()
        choosing.select(selection, SelectionFlag.ClearAndSelect)
        if rows:
            choosing.setCurrentIndex(model.index(rows[0], 0), SelectionFlag.NoUpdate)
            self.scrollTo(model.index(rows[0], 0))

    def selectRow(self, row: int) -> None:
        """Select just this row. Qt's own adds or removes it while Ctrl or Shift is held, as during Ctrl+Z."""
        if 0 <= row < self.model().rowCount():
            just_it = SelectionFlag.ClearAndSelect | SelectionFlag.Rows
            self.selectionModel().setCurrentIndex(self.model().index(row, 0), just_it)

    def paintEvent(self, event: QPaintEvent) -> None:
        cells = self.itemDelegate()
        if isinstance(cells, PlainCells):
            cells.begin()
        super().paintEvent(event)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        plain = not event.modifiers() & (Qt.KeyboardModifier.ControlModifier | Qt.KeyboardModifier.AltModifier)
        if event.key() in (Qt.Key.Key_Return, Qt.Key.Key_Enter) and self.currentIndex().isValid():
            self.entered_row.emit(self.currentIndex().row())
        elif plain and event.text().isprintable() and event.text().strip():
            self.typed.emit(event.text())
            if not self.isSignalConnected(QMetaMethod.fromSignal(self.typed)):
                event.ignore()  # unused here: a digit finds a piece
        else:
            super().keyPressEvent(event)
