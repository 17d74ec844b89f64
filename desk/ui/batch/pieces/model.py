"""The model of the batch table: finished rows, filtered and sorted here."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from datetime import date

from PySide6.QtCore import QAbstractTableModel, QModelIndex, Qt

from desk.domain.changes import EVERYTHING
from desk.domain.status import BESIDE_THE_LINE, PieceStatus
from desk.session.verdict.price_age import FRESH
from desk.session.verdict.verdict import Verdict
from desk.ui.batch.pieces.rows import FIGURES, HEADS, NUMBER, POSTAGE, RULER, STATUS, VERDICT, BatchRow, row_of
from desk.ui.kit.rows import remark_in
from desk.ui.kit.table import ALIGN, DISPLAY, RIGHT, Index

MARK, OUNCES = int(Qt.ItemDataRole.UserRole), int(Qt.ItemDataRole.UserRole) + 1
NOWHERE = QModelIndex()
OUT_OF_THE_WAY = frozenset({PieceStatus.HANDED_OVER, *BESIDE_THE_LINE})


@dataclass(frozen=True, slots=True)
class PieceFilter:
    """Which pieces to show: by status, issue (empty: any), and text.

    Without any of these, everything still in progress: handed-over pieces are found by status or by text.
    """

    status: PieceStatus | None = None
    code: str = ""
    text: str = ""

    def of(self, rows: Iterable[BatchRow]) -> list[BatchRow]:
        """Return the rows that match, in the same order."""
        status, code, text = self.status, self.code, self.text.casefold()
        if status is None and not code and not text:
            return [row for row in rows if row.status is not PieceStatus.HANDED_OVER]
        if status is not None:
            rows = [row for row in rows if row.status is status]
        if code:
            rows = [row for row in rows if code in row.codes]
        if text:
            rows = [row for row in rows if text in row.searched]
        return list(rows)


class BatchModel(QAbstractTableModel):
    """All pieces, and the rows that are shown."""

    def __init__(self) -> None:
        super().__init__()
        self._rows: dict[int, BatchRow] = {}
        self._order: list[BatchRow] = []
        self.shown: list[BatchRow] = []
        self.wanted = PieceFilter()
        self._column, self._down = NUMBER, False
        self._on: date | None = None
        self._prepared: dict[int, tuple[Verdict, date | None, BatchRow]] = {}

    def rowCount(self, parent: Index = NOWHERE) -> int:
        return 0 if parent.isValid() else len(self.shown)

    def columnCount(self, parent: Index = NOWHERE) -> int:
        return 0 if parent.isValid() else len(HEADS)

    def data(self, index: Index, role: int = DISPLAY) -> object:
        """Return what a cell shows; checks the role first, since a full table asks for thousands of cells."""
        if role == DISPLAY:
            return self.shown[index.row()].cells[index.column()]
        if role == ALIGN:
            return (
                int(Qt.AlignmentFlag.AlignRight | Qt.AlignmentFlag.AlignVCenter) if index.column() in FIGURES else None
            )
        if role == MARK and index.column() == VERDICT:
            return self.shown[index.row()].mark
        if role == OUNCES and index.column() == RULER:
            return self.shown[index.row()].ounces
        if index.column() == POSTAGE and (age := self.shown[index.row()].age) is not FRESH:
            return remark_in(role, self.shown[index.row()].cells[POSTAGE], age.short, age.words)
        return None

    def headerData(self, section: int, orientation: Qt.Orientation, role: int = DISPLAY) -> object:
        if orientation is not Qt.Orientation.Horizontal:
            return None
        if role == DISPLAY:
            return HEADS[section]
        if role == ALIGN and section in FIGURES:
            return RIGHT
        return None

    def sort(self, column: int, order: Qt.SortOrder = Qt.SortOrder.AscendingOrder) -> None:
        """Sort by a column; equal rows keep their order."""
        self._column, self._down = column, order is Qt.SortOrder.DescendingOrder
        self._sort()
        self._show()

    def show_only(self, wanted: PieceFilter) -> None:
        """Show only the pieces wanted."""
        self.wanted = wanted
        self._show()

    def take(self, verdicts: Mapping[int, Verdict], changed: frozenset[int], on: date | None = None) -> None:
        """Rebuild the rows of changed pieces and of those without one; all when everything or the mailing date changed.

        A search adds pieces that left on an earlier day to the pile, and is no change.
        """
        for number in self.outdated(verdicts, changed, on):
            self._rows[number] = self._prepared_or_new(number, verdicts[number], on)
        self._on, self._prepared = on, {}
        for number in self._rows.keys() - verdicts.keys():
            del self._rows[number]
        self.hold([self._rows[number] for number in verdicts])

    def outdated(self, verdicts: Mapping[int, Verdict], changed: frozenset[int], on: date | None) -> list[int]:
        """Return the pieces whose row `take` would make again."""
        if changed >= EVERYTHING or on != self._on:
            return list(verdicts)
        return [number for number in changed | (verdicts.keys() - self._rows.keys()) if number in verdicts]

    def prepare(self, verdicts: Mapping[int, Verdict], numbers: Iterable[int], on: date | None) -> None:
        """Make rows for a `take` to come."""
        for number in numbers:
            if (verdict := verdicts.get(number)) is not None:
                self._prepared[number] = verdict, on, row_of(number, verdict, on)

    def _prepared_or_new(self, number: int, verdict: Verdict, on: date | None) -> BatchRow:
        made_of, made_on, row = self._prepared.get(number, (None, None, None))
        return row if row is not None and made_of is verdict and made_on == on else row_of(number, verdict, on)

    def hold(self, rows: Iterable[BatchRow]) -> None:
        """Replace all rows."""
        self._rows = {row.piece_id: row for row in rows}
        self._order = list(self._rows.values())
        self._sort()
        self._show()

    def counts(self) -> Counter[PieceStatus]:
        """Return the number of pieces by status, in the whole batch."""
        return Counter(row.status for row in self._order)

    def codes(self) -> Counter[str]:
        """Return the number of pieces by issue, in the whole batch."""
        return Counter(code for row in self._order for code in row.codes)

    def place_of(self, piece_id: int) -> int | None:
        """Return the row a piece is shown in; None when it is not shown."""
        return next((place for place, row in enumerate(self.shown) if row.piece_id == piece_id), None)

    def __len__(self) -> int:
        return len(self._order)

    def _sort(self) -> None:
        column = self._column
        self._order.sort(key=lambda row: row.keys[column], reverse=self._down)
        if column != STATUS:  # the work of today first, whatever the order: what waits for nothing goes to the end
            self._order.sort(key=lambda row: row.status in OUT_OF_THE_WAY)

    def _show(self) -> None:
        """Reset when the rows or their order changed; else repaint only the changed ones."""
        fresh = self.wanted.of(self._order)
        before = self.shown
        if len(fresh) == len(before) and all(
            new.piece_id == old.piece_id for new, old in zip(fresh, before, strict=True)
        ):
            self.shown = fresh
            changed = [place for place, (new, old) in enumerate(zip(fresh, before, strict=True)) if new is not old]
            if changed:  # once, since the table measures its texts each time
                self.dataChanged.emit(self.index(changed[0], 0), self.index(changed[-1], len(HEADS) - 1))
            return
        self.beginResetModel()
        self.shown = fresh
        self.endResetModel()
