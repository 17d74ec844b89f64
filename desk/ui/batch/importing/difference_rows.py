"""What an import would change, one line for each difference."""

from __future__ import annotations

from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QKeyEvent

from desk.session.importing.import_table import DifferenceLine, ImportEffect
from desk.session.words.fields import field_words
from desk.ui.kit import type as typeface
from desk.ui.kit.rows import TextRows
from desk.ui.kit.table import PlainTable

ACCEPTED, LEFT = "✓", "–"


class WhatItDoes(PlainTable):
    """One change per line; Space accepts or rejects a record, A accepts all."""

    accepted_changed = Signal()

    def __init__(self) -> None:
        super().__init__("Changes")
        self._rows = TextRows(["Accept", "Record", "Change", "Field", "Before", "Now"])
        self._outcome: ImportEffect | None = None
        self.accepted: set[str] = set()
        self.setModel(self._rows)
        self.set_widths((76, 110, 130, 110, 220, 220), grows=(2, 3, 4, 5))
        self.horizontalHeader().setStretchLastSection(True)
        self.setMinimumHeight(round(130 * typeface.scale()))

    def show_outcome(self, outcome: ImportEffect | None) -> None:
        """Show what would change. At first only changes that fill an empty field are accepted."""
        self._outcome = outcome
        self.accepted = set(outcome.filled) if outcome else set()
        self.setVisible(bool(outcome and outcome.lines))
        self._show()
        if self._rows.rows:
            self.selectRow(0)

    def toggle(self) -> None:
        """Accept or reject the record of the selected line."""
        row = self.currentIndex().row()
        if self._outcome is not None and 0 <= row < len(self._outcome.lines):
            line = self._outcome.lines[row]
            if line.may_be_accepted:
                self.accepted ^= {line.name}
                self._show(row)

    def accept_all(self) -> None:
        """Accept every change."""
        if self._outcome is not None:
            self.accepted = set(self._outcome.changed)
            self._show(max(0, self.currentIndex().row()))

    def keyPressEvent(self, event: QKeyEvent) -> None:
        if event.key() == Qt.Key.Key_Space:
            (self.accept_all if event.modifiers() & Qt.KeyboardModifier.ShiftModifier else self.toggle)()
        else:
            super().keyPressEvent(event)

    def _show(self, row: int | None = None) -> None:
        self._rows.show_rows([self._cells(line) for line in self._outcome.lines] if self._outcome else [])
        if row is not None:
            self.setCurrentIndex(self._rows.index(row, 0))
            self.selectRow(row)
        self.accepted_changed.emit()

    def _cells(self, line: DifferenceLine) -> tuple[str, ...]:
        mark = (ACCEPTED if line.name in self.accepted else LEFT) if line.may_be_accepted else ""
        return (mark, line.name, line.what, field_words(line.field), line.before, line.after)
