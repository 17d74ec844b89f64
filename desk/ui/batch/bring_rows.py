"""The first rows of a table under our names, and below them what taking it in would do."""

from __future__ import annotations

from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import QFrame, QHeaderView, QTableWidget, QTableWidgetItem

from desk.session.bring import Looked, Outcome
from desk.ui.kit import type as typeface
from desk.ui.kit.rows import TextRows
from desk.ui.kit.table import HEADS, PlainTable

ACCEPTED, LEFT = "✓", "–"


class FirstRows(QTableWidget):
    """The first rows; each head says our name of the field, and theirs below it."""

    def __init__(self) -> None:
        super().__init__()
        self.setAccessibleName(self.tr("The first rows of the file under our names"))
        self.setEditTriggers(QTableWidget.EditTrigger.NoEditTriggers)
        self.setTabKeyNavigation(False)
        self.setWordWrap(False)
        self.setShowGrid(False)
        self.setFrameShape(QFrame.Shape.NoFrame)
        self.horizontalHeader().setStyleSheet(HEADS)
        self.verticalHeader().hide()
        self.horizontalHeader().setDefaultSectionSize(round(130 * typeface.scale()))
        self.horizontalHeader().setSectionResizeMode(QHeaderView.ResizeMode.Interactive)
        self.setMinimumHeight(round(130 * typeface.scale()))

    def show_table(self, looked: Looked) -> None:
        """Show a table as it was looked at."""
        found = looked.preview
        self.clear()
        self.setColumnCount(len(found.columns))
        self.setRowCount(len(found.rows))
        pairs = zip(found.columns, found.headers, strict=True)
        self.setHorizontalHeaderLabels([ours if ours == theirs else f"{ours}\n({theirs})" for ours, theirs in pairs])
        for down, cells in enumerate(found.rows):
            for across, text in enumerate(cells):
                self.setItem(down, across, QTableWidgetItem(text))


class WhatItDoes(PlainTable):
    """Every difference in a line; Space accepts or leaves the record of the line, a letter A all of them."""

    accepted_changed = Signal()

    def __init__(self) -> None:
        super().__init__(self.tr("What is another than before"))
        self._rows = TextRows(
            [self.tr("Accept"), self.tr("Which"), self.tr("What"), self.tr("Field"), self.tr("Before"), self.tr("Now")]
        )
        self._outcome: Outcome | None = None
        self.accepted: set[str] = set()
        self.setModel(self._rows)
        self.set_widths((76, 110, 130, 110, 220, 220))
        self.horizontalHeader().setStretchLastSection(True)
        self.setMinimumHeight(round(130 * typeface.scale()))
        self.typed.connect(self._type)

    def show_outcome(self, outcome: Outcome | None) -> None:
        """Show what would be done; nothing is accepted yet."""
        self._outcome = outcome
        self.accepted = set()
        self.setVisible(bool(outcome and outcome.lines))
        self._show()
        if self._rows.rows:
            self.selectRow(0)

    def toggle(self) -> None:
        """Accept the record of the chosen line, or leave it again."""
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
            self.toggle()
        else:
            super().keyPressEvent(event)

    def _type(self, text: str) -> None:
        if text.casefold() == "a":
            self.accept_all()

    def _show(self, row: int | None = None) -> None:
        lines = self._outcome.lines if self._outcome else ()
        marks = [(ACCEPTED if line.name in self.accepted else LEFT) if line.may_be_accepted else "" for line in lines]
        self._rows.show_rows(
            [
                (mark, one.name, one.what, one.field, one.before, one.after)
                for mark, one in zip(marks, lines, strict=True)
            ]
        )
        if row is not None:
            self.setCurrentIndex(self._rows.index(row, 0))
            self.selectRow(row)
        self.accepted_changed.emit()
