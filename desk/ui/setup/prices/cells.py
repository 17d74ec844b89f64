"""The prices and dates of one list: each change is saved in a copy of your own, as one step."""

from __future__ import annotations

from collections.abc import Sequence

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import QPushButton, QVBoxLayout, QWidget

from desk.domain.faults import Fault
from desk.domain.severity import Severity
from desk.session.setup.price_list_words import PriceList, amount_of, cell_at, cell_heads, cell_rows, day_of
from desk.session.setup.price_lists import PriceListFolders, edit_cell, keep_lists, set_dates
from desk.session.words.figures import amount_words, day_in_words, measure
from desk.session.words.services import service_words
from desk.ui.bridge import Desk
from desk.ui.kit import type as typeface
from desk.ui.kit.card import Inked
from desk.ui.kit.fields.choice_fields import ONE_COLUMN_FROM
from desk.ui.kit.fields.text_fields import LineField
from desk.ui.kit.form import Form, Scrolled
from desk.ui.kit.rows import TextRows
from desk.ui.kit.table import PlainTable

WIDTHS = (96, 120, 140)  # pixels at 100%
LEAST = 300  # least height of the table in pixels, where the page scrolls


class CellsPanel(QWidget):
    """One list. `ended`: it was closed."""

    ended = Signal()

    def __init__(self, desk: Desk, shelf: PriceListFolders) -> None:
        super().__init__()
        self._desk, self._shelf = desk, shelf
        self.service = self.chart = ""
        self.heading = Inked(size=typeface.STRONG, bold=True)
        self.heading.setWordWrap(True)
        self.form = Form(
            [
                LineField("effective", "First day of the whole list"),
                LineField("until", "Last day, if known", hint="unknown"),
                LineField("price", "Selected price"),
            ]
        )
        self.form.left.connect(self._keep)
        self.model = TextRows(("", "", ""), (1, 2))
        self.table = PlainTable("Prices of the list")
        self.table.setModel(self.model)
        self.table.set_widths(WIDTHS)
        self.table.selectionModel().currentRowChanged.connect(lambda *_: self._show_cell())
        self.table.entered_row.connect(lambda _row: self.form.fields["price"].setFocus())
        self.back_button = QPushButton("Back to the lists")
        self.back_button.setAccessibleName(self.back_button.text())
        self.back_button.clicked.connect(lambda _checked=False: self.ended.emit())
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        parts = (self.heading, self.form, self.table)
        if typeface.scale() >= ONE_COLUMN_FROM:  # without room for everything the whole page scrolls
            self.table.setMinimumHeight(LEAST)
            column.addWidget(Scrolled("Prices of the list", *parts), 1)
        else:
            for part in parts:
                column.addWidget(part, 1 if part is self.table else 0)
        column.addWidget(self.back_button, 0, Qt.AlignmentFlag.AlignLeft)

    def open(self, service: str, chart: str) -> None:
        """Show the list of a service."""
        self.service, self.chart = service, chart
        self.refresh(fresh=True)

    def arrive(self) -> None:
        """Put the focus in the prices."""
        self.table.setFocus()

    def refresh(self, *, fresh: bool = False) -> None:
        """Show the current list; one no longer in use (after an undo) closes the panel."""
        if not self.service:
            return
        lists = self._lists()
        chart = next((each for each in lists if each.service == self.service), None)
        if chart is None:
            self.service = self.chart = ""
            self.ended.emit()
            return
        self.heading.setText(f"{service_words(chart.service)} – {chart.source}")
        row = max(0, self.table.currentIndex().row())
        self.model.name_columns(cell_heads(chart))
        self.model.show_rows(cell_rows(chart))
        self.table.setColumnHidden(0, not chart.keyed_by)
        self.table.selectRow(0 if fresh else min(row, len(self.model.rows) - 1))
        for name, day in (("effective", chart.effective), ("until", chart.until)):
            self.form.fields[name].show_kept(day.isoformat() if day else "", fresh=fresh)

    def _lists(self) -> Sequence[PriceList]:
        return self._desk.sitting.rulebook.charts.of_chart(self.chart)

    def _cell(self) -> tuple[str, ...]:
        row = self.table.currentIndex().row()
        return self.model.rows[row] if 0 <= row < len(self.model.rows) else ("", "", "")

    def _show_cell(self) -> None:
        self.form.fields["price"].show_kept(self._cell()[2], fresh=True)

    def _keep(self, name: str) -> None:
        """Save a price or a date in your own list; a fault is shown at the field."""
        self.form.fields[name].say()
        values, lists = self.form.texts(), self._lists()
        named = service_words(self.service)
        try:
            if name == "price":
                one = next(each for each in lists if each.service == self.service)
                price = amount_of(values["price"], one.currency)
                key, weight = cell_at(one, self.table.currentIndex().row())
                made = edit_cell(lists, self.service, key, weight, price)
                step = (
                    f"Price changed: {named} up to {measure(weight)}{f', {key}' if key else ''}, {amount_words(price)}"
                )
            else:
                effective = day_of(values["effective"])
                if effective is None:
                    self.form.fields[name].say(Severity.STOP, "Enter the first day of the list.")
                    return
                made = set_dates(lists, effective, day_of(values["until"]))
                step = f"Dates changed: price list of {day_in_words(effective)}"
        except Fault as fault:
            self.form.fields[name].say(Severity.STOP, fault.sentence)
            return
        service, self.service = self.service, ""  # saving gives the list another name
        saved = self._desk.do(keep_lists, self._shelf, made, step)
        self.service, self.chart = service, saved or self.chart
        self.refresh()
