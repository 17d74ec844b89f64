"""A model over rows of text, for tables that only show. Heading rows span the table in the view's first column."""

from __future__ import annotations

from collections.abc import Collection, Sequence
from typing import Any

from PySide6.QtCore import QAbstractTableModel, QModelIndex, Qt

from desk.ui.kit.table import ALIGN, DISPLAY, RIGHT, Index

NOWHERE = QModelIndex()


class TextRows(QAbstractTableModel):
    """Rows of text under heads; the columns of `figures` stand at the right."""

    def __init__(self, heads: Sequence[str], figures: Collection[int] = ()) -> None:
        super().__init__()
        self._heads, self._figures = tuple(heads), frozenset(figures)
        self.rows: tuple[tuple[str, ...], ...] = ()

    def show_rows(self, rows: Sequence[tuple[str, ...]]) -> None:
        """Show these rows in the place of those before."""
        self.beginResetModel()
        self.rows = tuple(rows)
        self.endResetModel()

    def rowCount(self, parent: Index = NOWHERE) -> int:
        return 0 if parent.isValid() else len(self.rows)

    def columnCount(self, parent: Index = NOWHERE) -> int:
        return 0 if parent.isValid() else len(self._heads)

    def data(self, index: Index, role: int = DISPLAY) -> Any:
        """Text, and at which side it stands."""
        if role == DISPLAY:
            return self.rows[index.row()][index.column()]
        if role == ALIGN and index.column() in self._figures:
            return RIGHT
        return None

    def headerData(self, section: int, orientation: Qt.Orientation, role: int = DISPLAY) -> Any:
        if orientation is not Qt.Orientation.Horizontal:
            return None
        if role == DISPLAY:
            return self._heads[section]
        return RIGHT if role == ALIGN and section in self._figures else None
