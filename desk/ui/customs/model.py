"""The table model of pieces going abroad: rows of text made from the declarations."""

from __future__ import annotations

from collections.abc import Mapping
from typing import NamedTuple

from PySide6.QtCore import QAbstractTableModel, QModelIndex, Qt

from desk.domain.severity import Severity
from desk.session.customs.declarations import DeclarationView
from desk.ui.kit.table import ALIGN, DISPLAY, RIGHT, Index

NUMBER, TO, COUNTRY, FORM, VALUE, MISSING = range(6)
HEADS = ("Number", "To", "Country", "Form", "Goods value", "To fix")
MARK = int(Qt.ItemDataRole.UserRole)
NOWHERE = QModelIndex()
IN_ORDER = "nothing"


class CustomsRow(NamedTuple):
    """One piece abroad."""

    piece_id: int
    cells: tuple[str, ...]
    mark: Severity
    is_lacking: bool


def row_of(piece_id: int, view: DeclarationView) -> CustomsRow:
    """Return the row of a declaration."""
    cells = (view.number, view.to, view.country, view.form, view.goods_value, view.in_short or IN_ORDER)
    return CustomsRow(piece_id, cells, view.mark, view.is_lacking)


class CustomsModel(QAbstractTableModel):
    """All pieces going abroad, in batch order."""

    def __init__(self) -> None:
        super().__init__()
        self.rows: list[CustomsRow] = []

    def rowCount(self, parent: Index = NOWHERE) -> int:
        return 0 if parent.isValid() else len(self.rows)

    def columnCount(self, parent: Index = NOWHERE) -> int:
        return 0 if parent.isValid() else len(HEADS)

    def data(self, index: Index, role: int = DISPLAY) -> object:
        """Return what a cell shows."""
        row = self.rows[index.row()]
        if role == DISPLAY:
            return row.cells[index.column()]
        if role == ALIGN and index.column() == VALUE:
            return RIGHT
        return row.mark if role == MARK and index.column() == MISSING else None

    def headerData(self, section: int, orientation: Qt.Orientation, role: int = DISPLAY) -> object:
        if orientation is not Qt.Orientation.Horizontal:
            return None
        if role == DISPLAY:
            return HEADS[section]
        return RIGHT if role == ALIGN and section == VALUE else None

    def take(self, views: Mapping[int, DeclarationView]) -> None:
        """Show these declarations; reset the table only when the set of pieces changes."""
        fresh = [row_of(number, view) for number, view in views.items()]
        if [row.piece_id for row in fresh] != [row.piece_id for row in self.rows]:
            self.beginResetModel()
            self.rows = fresh
            self.endResetModel()
            return
        before, self.rows = self.rows, fresh
        changed = [place for place, (old, new) in enumerate(zip(before, fresh, strict=True)) if old != new]
        if changed:  # once, since the table measures its texts each time
            self.dataChanged.emit(self.index(changed[0], 0), self.index(changed[-1], MISSING))

    def place_of(self, piece_id: int | None) -> int | None:
        """Return the row of a piece."""
        return next((place for place, row in enumerate(self.rows) if row.piece_id == piece_id), None)

    def next_lacking(self, after: int) -> int | None:
        """Return the next incomplete row after that one, wrapping around; None when there is none."""
        turned = [*range(after + 1, len(self.rows)), *range(after + 1)]
        return next((place for place in turned if place < len(self.rows) and self.rows[place].is_lacking), None)
