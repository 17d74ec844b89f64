"""Actual postage costs: import amounts and tracking numbers, and see where they differ from estimates."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

from PySide6.QtGui import QGuiApplication
from PySide6.QtWidgets import QLineEdit, QWidget

from desk.domain.faults import Fault
from desk.domain.severity import Severity
from desk.session.lists.shipped_list import save_shipped_list
from desk.session.money.paid import Matched, enter_paid, match_file, match_text
from desk.session.money.paid_differences import OneChange, paid_differences, pieces_that_differ, rows_that_differ
from desk.session.money.thresholds import set_difference, thresholds
from desk.session.papers.saving import cannot_write
from desk.session.words.figures import amount_words, counted, measure, pieces_in_words
from desk.ui.bridge import Desk, Event
from desk.ui.costs.difference_groups import DifferenceGroups
from desk.ui.costs.parts import add_button, lay_out, plain_table, typed_amount
from desk.ui.costs.shipped_columns import ShippedColumns
from desk.ui.kit import type as typeface
from desk.ui.kit.card import Inked
from desk.ui.kit.files import file_to_open, file_to_save
from desk.ui.kit.rows import TextRows
from desk.ui.kit.wrapping import FlowLayout, labeled

ROWS = ("Package", "Tracking", "Paid", "Kind", "Remark")
TABLES = "Tables (*.csv *.tsv *.xlsx *.ods)"


class PaidPage(QWidget):
    """A list is matched and shown first; Enter or the button enters the matched rows."""

    def __init__(self, desk: Desk) -> None:
        super().__init__()
        self.desk = desk
        self.matched: list[Matched] = []
        self.changes: OneChange | None = None  # prices worked out under these terms
        bar = QWidget()
        line = FlowLayout(bar)
        self.open = add_button("&Import paid amounts…", self.ask_file, line)
        self.paste = add_button("&Paste a list", self.paste_list, line)
        self.enter = add_button("&Save these amounts", self.enter_rows, line)
        self.shipped = add_button("Save &shipped list…", self.ask_shipped, line)
        self.least = QLineEdit()
        self.least.setMaximumWidth(round(90 * typeface.scale()))
        self.least.editingFinished.connect(self.set_least)
        line.addWidget(labeled("Show &differences over", self.least))
        self.headers = ShippedColumns(desk)
        self.words, self.fault = Inked(), Inked(role="stop")
        for label in (self.words, self.fault):
            label.setWordWrap(True)
        self.rows, self.differences = TextRows(ROWS, (2,)), DifferenceGroups(desk)
        self.row_table = plain_table("Rows of the list", self.rows, (110, 220, 100, 110, 240))
        parts = (bar, self.headers, self.words, self.fault, self.row_table, self.differences)
        lay_out(self, "Paid", parts, self.row_table, self.differences)
        self.show_rows([])

    def refresh(self) -> None:
        """Show where paid amounts differ from estimates."""
        least = thresholds(self.desk.sitting).differs
        if not self.least.hasFocus():
            self.least.setText(measure(least.text()))
        self.headers.refresh()
        if self.changes is None or self.changes.terms is not self.desk.pile.terms:
            self.changes = OneChange(self.desk.pile.terms)
        rows = rows_that_differ(self.desk.sitting, least)
        self.differences.show_groups(paid_differences(self.desk.pile, rows, least, self.changes))

    def read_earlier(self) -> None:
        """Have the pieces read whose difference needs a reason."""
        sitting = self.desk.sitting
        self.desk.earlier.read(pieces_that_differ(sitting, thresholds(sitting).differs))

    def set_least(self) -> None:
        """Save the typed sum; one that can't be read says so and changes nothing."""
        typed = typed_amount(self.least.text(), self.desk.pile.terms.shop.policy.currency)
        if typed is None:
            words = f"Can't read “{self.least.text()}” as an amount."
            self.desk.happened.emit(Event(words, Severity.STOP))
        elif typed != thresholds(self.desk.sitting).differs:
            self.desk.do(set_difference, typed)
            self.refresh()

    def ask_file(self) -> None:
        """Ask for a list and match it."""
        if (file := file_to_open(self, "Import paid amounts", TABLES)) is not None:
            self.match(lambda: match_file(self.desk.sitting, file))

    def paste_list(self) -> None:
        """Match the list on the clipboard."""
        self.match(lambda: match_text(self.desk.sitting, QGuiApplication.clipboard().text()))

    def match(self, read: Callable[[], list[Matched]]) -> None:
        """Match a list and show its rows; a list that cannot be read says why."""
        try:
            matched, fault = read(), ""
        except Fault as refused:
            matched, fault = [], str(refused)
        self.show_rows(matched, fault)

    def show_rows(self, matched: list[Matched], fault: str = "") -> None:
        """Show the rows of a list, those without a package first."""
        self.matched = sorted(matched, key=lambda one: (one.piece_id is not None, one.row.line))
        fitting = sum(one.piece_id is not None for one in matched)
        self.rows.show_rows([_row_cells(one) for one in self.matched])
        self.words.setText(
            f"{counted(fitting, 'row')} matched to a package, {len(matched) - fitting} not."
            if matched
            else "Import or paste a list with order numbers, tracking numbers and what you paid."
        )
        self.fault.setText(fault)
        self.fault.setVisible(bool(fault))
        self.row_table.setVisible(bool(matched))
        self.enter.setEnabled(bool(fitting))

    def enter_rows(self) -> None:
        """Enter the rows that match a package."""
        if self.desk.do(enter_paid, self.matched) is not None:
            self.show_rows([])
            self.refresh()

    def ask_shipped(self) -> None:
        """Ask for a file and save the list of what was handed over, with tracking numbers."""
        if (file := file_to_save(self, "Save shipped list", "shipped.csv", "CSV (*.csv)")) is not None:
            self.save_shipped(file)

    def save_shipped(self, file: Path) -> None:
        """Save the list of what was handed over."""
        try:
            count = save_shipped_list(self.desk.sitting, file)
        except OSError as error:
            self.desk.happened.emit(Event(cannot_write(file, error), Severity.STOP))
        else:
            self.desk.happened.emit(Event(f"Saved {pieces_in_words(count)}: {file.name}"))


def _row_cells(one: Matched) -> tuple[str, ...]:
    row = one.row
    paid = "" if row.paid is None else amount_words(row.paid)
    return one.number or row.reference or row.recipient, row.tracking, paid, row.kind, one.why
