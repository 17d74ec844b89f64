"""A model over rows of text, for read-only tables. Heading rows span the table in the view's first column."""

from __future__ import annotations

from collections.abc import Collection, Mapping, Sequence

from PySide6.QtCore import QAbstractTableModel, QModelIndex, Qt

from desk.ui.kit.plain import plain_tip
from desk.ui.kit.table import ACCESSIBLE, ALIGN, BESIDE, DISPLAY, RIGHT, TIP, Index

NOWHERE = QModelIndex()


def remark_in(role: int, text: str, short: str, words: str) -> str | None:
    """Return a cell's remark: short for the painter, in words for a screen reader and as a tooltip."""
    return {BESIDE: short, ACCESSIBLE: f"{text}, {words}", TIP: plain_tip(words)}.get(role)


class TextRows(QAbstractTableModel):
    """Rows of text under headings; the columns in `figures` are right-aligned. Remarks go in column `remarked`."""

    def __init__(self, heads: Sequence[str], figures: Collection[int] = (), remarked: int = -1) -> None:
        super().__init__()
        self._heads, self._figures, self._remarked = tuple(heads), frozenset(figures), remarked
        self.rows: tuple[tuple[str, ...], ...] = ()
        self.remarks: Mapping[int, tuple[str, str]] = {}

    def name_columns(self, heads: Sequence[str]) -> None:
        """Rename the columns; their number stays."""
        self._heads = tuple(heads)
        self.headerDataChanged.emit(Qt.Orientation.Horizontal, 0, len(self._heads) - 1)

    def show_rows(self, rows: Sequence[tuple[str, ...]], remarks: Mapping[int, tuple[str, str]] | None = None) -> None:
        """Replace the rows; `remarks` are short and long remarks by row."""
        self.beginResetModel()
        self.rows, self.remarks = tuple(rows), remarks or {}
        self.endResetModel()

    def rowCount(self, parent: Index = NOWHERE) -> int:
        return 0 if parent.isValid() else len(self.rows)

    def columnCount(self, parent: Index = NOWHERE) -> int:
        return 0 if parent.isValid() else len(self._heads)

    def data(self, index: Index, role: int = DISPLAY) -> object:
        """Return the text of a cell, and its alignment."""
        if role == DISPLAY:
            return self.rows[index.row()][index.column()]
        if role == ALIGN and index.column() in self._figures:
            return RIGHT
        if index.column() == self._remarked and index.row() in self.remarks:
            return remark_in(role, self.rows[index.row()][index.column()], *self.remarks[index.row()])
        return None

    def headerData(self, section: int, orientation: Qt.Orientation, role: int = DISPLAY) -> object:
        if orientation is not Qt.Orientation.Horizontal:
            return None
        if role == DISPLAY:
            return self._heads[section]
        return RIGHT if role == ALIGN and section in self._figures else None
