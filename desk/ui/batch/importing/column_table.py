"""The columns of a table to import; the first row says what each is read as.

Arrows select a column; a letter or Enter opens the list of column types. Space accepts a suggestion.
"""

from __future__ import annotations

from collections.abc import Sequence

from PySide6.QtCore import QAbstractTableModel, QEvent, QModelIndex, QPersistentModelIndex, QRect, QRectF, Qt, Signal
from PySide6.QtGui import QFontMetrics, QKeyEvent, QPainter
from PySide6.QtWidgets import QStyle, QStyleOptionViewItem

from desk.domain.severity import Severity
from desk.session.importing.columns import Column, columns_of
from desk.session.importing.import_table import OpenedTable
from desk.session.words.fields import field_words
from desk.ui.batch.importing.meaning_list import MeaningList
from desk.ui.kit import type as typeface
from desk.ui.kit.mark import paint_mark
from desk.ui.kit.table import DISPLAY, PAD, Index, PlainCells, PlainTable

NARROWEST, WIDEST = 96, 230  # pixels at 100%
FIRST, REST = 34, 26  # heights of the rows at 100%
MARK, MARK_SIDE = int(Qt.ItemDataRole.UserRole), 11
SPOKEN = int(Qt.ItemDataRole.AccessibleTextRole)
NOWHERE = QModelIndex()
MORE = Qt.KeyboardModifier.ControlModifier | Qt.KeyboardModifier.AltModifier | Qt.KeyboardModifier.MetaModifier


class ColumnRows(QAbstractTableModel):
    """What each column is read as, and below that its first rows from the file."""

    def __init__(self) -> None:
        super().__init__()
        self.columns: tuple[Column, ...] = ()
        self._cells: tuple[tuple[str, ...], ...] = ()

    def show_columns(self, columns: tuple[Column, ...], cells: tuple[tuple[str, ...], ...]) -> None:
        """Show other columns."""
        self.beginResetModel()
        self.columns, self._cells = columns, cells
        self.endResetModel()

    def rowCount(self, parent: Index = NOWHERE) -> int:
        return 0 if parent.isValid() or not self.columns else 1 + len(self._cells)

    def columnCount(self, parent: Index = NOWHERE) -> int:
        return 0 if parent.isValid() else len(self.columns)

    def data(self, index: Index, role: int = DISPLAY) -> object:
        """Return the text of a cell, the mark of the first row, or the words for a screen reader."""
        column = self.columns[index.column()]
        if index.row():
            cells = self._cells[index.row() - 1]
            return cells[index.column()] if role == DISPLAY and index.column() < len(cells) else None
        if role == DISPLAY:
            return self.words_of(column)
        if role == MARK:
            return Severity.LOOK if column.needs_a_choice or column.is_doubtful else None
        return f"{column.header}: {self.words_of(column)}" if role == SPOKEN else None

    def headerData(self, section: int, orientation: Qt.Orientation, role: int = DISPLAY) -> object:
        if orientation is Qt.Orientation.Horizontal and role == DISPLAY:
            return self.columns[section].header or "—"
        return None

    def words_of(self, column: Column) -> str:
        """Return what a column is read as, in words."""
        if column.fields:
            return ", ".join(map(field_words, column.fields))
        if column.offered:
            words = field_words(column.offered)
            return f"{words[:1].upper()}{words[1:]}?"
        if column.looks_like:
            return "Choose…"
        return "skipped" if column.is_skipped else "ignored"


class ColumnCells(PlainCells):
    """Paints the first row in bold with its mark, and the selected column on another background."""

    def paint(
        self, painter: QPainter, option: QStyleOptionViewItem, index: QModelIndex | QPersistentModelIndex
    ) -> None:
        """Paint one cell."""
        box, is_first = option.rect, index.row() == 0
        if option.state & QStyle.StateFlag.State_Selected:
            painter.fillRect(box, self.colors["hairline"])
            if is_first:
                painter.fillRect(QRect(box.left(), box.bottom() - 2, box.width(), 3), self.colors["teal"])
        mark = index.data(MARK) if is_first else None
        if mark:
            side = MARK_SIDE * typeface.scale()
            at = QRectF(box.left() + PAD, box.center().y() - side / 2, side, side)
            paint_mark(painter, mark, at, self.sheet)
            box = box.adjusted(round(side) + 4, 0, 0, 0)
        is_read = is_first and bool(index.model().columns[index.column()].fields)  # type: ignore[attr-defined]
        painter.setPen(self.colors["look" if mark else "ink" if is_read or not is_first else "soft_ink"])
        painter.setFont(self.bold if is_read else self.font)
        self.paint_text(painter, box, index.data(DISPLAY) or "")
        if option.state & QStyle.StateFlag.State_HasFocus:
            painter.setPen(self.colors["teal"])
            painter.drawRect(option.rect.adjusted(0, 0, -1, -1))


class ColumnTable(PlainTable):
    """The table. Each choice for a column is a signal; the panel shows the result."""

    said = Signal(int, str)  # that column is this field; empty: skipped
    accepted = Signal(object)  # indexes of columns whose suggestion is accepted; None: all
    rest_skipped = Signal()  # skip every column that still needs a choice
    exchanged = Signal(int, int)
    moved = Signal()  # another column was selected

    def __init__(self) -> None:
        super().__init__("Columns of the file, and what each is read as")
        self.rows = ColumnRows()
        self._fields: Sequence[str] = ()
        self.offers_country = False  # one for all orders, where no column is the country
        self.setModel(self.rows)
        self.setItemDelegate(ColumnCells(self))
        self.setSelectionBehavior(self.SelectionBehavior.SelectColumns)
        self.setSelectionMode(self.SelectionMode.SingleSelection)
        self.meanings = MeaningList(self.viewport())
        self.meanings.chosen.connect(self._say)
        self.meanings.closed.connect(self.setFocus)
        self.doubleClicked.connect(lambda _index: self.open_list())
        self.horizontalHeader().sectionDoubleClicked.connect(lambda _place: self.open_list())
        self.selectionModel().currentColumnChanged.connect(lambda *_: self.moved.emit())

    @property
    def columns(self) -> tuple[Column, ...]:
        """The columns that are shown."""
        return self.rows.columns

    @property
    def place(self) -> int:
        """The index of the selected column; -1 when there is none."""
        return self.currentIndex().column()

    def show_table(self, opened: OpenedTable) -> None:
        """Show a previewed table; the selected column stays, else the first that needs a choice."""
        columns, before = columns_of(opened.preview), [one.header for one in self.columns]
        place = self.place if before == [one.header for one in columns] else -1
        self._fields, self.offers_country = opened.fields, bool(opened.preview.likely_country)
        self.rows.show_columns(columns, opened.preview.cells)
        self._place()
        asking = (at for at, one in enumerate(columns) if one.needs_a_choice or one.is_doubtful)
        self.choose(place if place >= 0 else next(asking, 0))

    def choose(self, place: int) -> None:
        """Select a column."""
        self.setCurrentIndex(self.rows.index(0, place))

    def open_list(self, typed: str = "") -> None:
        """Open the list of column types, at the first that begins with the typed letters."""
        place = self.place
        if place < 0:
            return
        held = {name: column.header for column in self.columns for name in column.fields}
        here = self.columns[place]
        self.scrollTo(self.rows.index(0, place))
        chosen = here.fields[0] if here.fields else here.offered
        self.meanings.offer(here.header, [(name, held.get(name, "")) for name in self._fields], chosen)
        self.meanings.open_at(self.visualRect(self.rows.index(0, place)), typed)

    def accept(self) -> None:
        """Accept the suggestion for the selected column."""
        if self.place >= 0 and self.columns[self.place].offered:
            self.accepted.emit([self.place])

    def accept_all(self) -> None:
        """Accept every suggestion."""
        if self.offers_country or any(column.offered for column in self.columns):
            self.accepted.emit(None)

    def exchange(self, by: int) -> None:
        """Swap the types of the selected column and its neighbor; the selection moves along."""
        here, there = self.place, self.place + by
        if here >= 0 and 0 <= there < len(self.columns):
            self.choose(there)
            self.exchanged.emit(here, there)

    def leave_out(self) -> None:
        """Skip the selected column."""
        if self.place >= 0 and not self.columns[self.place].is_skipped:
            self._say("")

    def skip_rest(self) -> None:
        """Skip every column that still needs a choice and has no suggestion."""
        if any(column.looks_like and not column.offered for column in self.columns):
            self.rest_skipped.emit()

    def event(self, event: QEvent) -> bool:
        """Keep letters for the list of column types instead of the screen's keys."""
        if event.type() is QEvent.Type.ShortcutOverride and isinstance(event, QKeyEvent) and _is_letter(event):
            event.accept()
            return True
        return super().event(event)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        key, more = event.key(), event.modifiers() & MORE
        if key in (Qt.Key.Key_Left, Qt.Key.Key_Right) and more:
            self.exchange(1 if key == Qt.Key.Key_Right else -1)
        elif key == Qt.Key.Key_Space:
            (self.accept_all if event.modifiers() & Qt.KeyboardModifier.ShiftModifier else self.accept)()
        elif key in (Qt.Key.Key_Delete, Qt.Key.Key_Backspace):
            (self.skip_rest if event.modifiers() & Qt.KeyboardModifier.ShiftModifier else self.leave_out)()
        elif key in (Qt.Key.Key_Return, Qt.Key.Key_Enter, Qt.Key.Key_F2):
            self.open_list()
        elif _is_letter(event):
            self.open_list(event.text())
        elif key not in (Qt.Key.Key_Up, Qt.Key.Key_Down):
            super().keyPressEvent(event)

    def _say(self, ours: str) -> None:
        if self.place >= 0:
            self.said.emit(self.place, ours)

    def _place(self) -> None:
        """Fit column widths to their words, within bounds; show all rows if the page is tall enough."""
        scale = typeface.scale()
        words, bold = QFontMetrics(typeface.font(typeface.BODY)), QFontMetrics(typeface.font(typeface.BODY, bold=True))
        for place, column in enumerate(self.columns):
            texts = [words.horizontalAdvance(text) for text in column.values]
            heads = [bold.horizontalAdvance(text) for text in (self.rows.words_of(column), column.header)]
            wanted = max([*texts, *heads], default=0) + 2 * PAD + round(MARK_SIDE * scale) + 6
            self.setColumnWidth(place, max(round(NARROWEST * scale), min(round(WIDEST * scale), wanted)))
        heights = [round((REST if row else FIRST) * scale) for row in range(self.rows.rowCount())]
        for row, height in enumerate(heights):
            self.verticalHeader().resizeSection(row, height)
        bars = self.horizontalHeader().sizeHint().height() + self.horizontalScrollBar().sizeHint().height()
        self.setFixedHeight(sum(heights) + bars + 4)


def _is_letter(event: QKeyEvent) -> bool:
    return not event.modifiers() & MORE and event.text().isalpha()
