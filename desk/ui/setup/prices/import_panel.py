"""Preview a new price list: its dates, the service of each table, what changes and the effect."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QHBoxLayout, QPushButton, QVBoxLayout, QWidget

from desk.domain.faults import Refused, Unreadable
from desk.domain.severity import Severity
from desk.session.setup.last_month import last_month, last_month_words, mailed_last_month
from desk.session.setup.price_effect import PriceEffect, price_effect
from desk.session.setup.price_list_preview import ListHead, is_folder_head, preview_chart, workbook_tables
from desk.session.setup.price_list_words import (
    CHANGE_HEADS,
    EFFECT_HEADS,
    change_rows,
    day_of,
    effect_rows,
    effect_words,
    preview_words,
)
from desk.session.setup.price_lists import ChartPreview, PriceListFolders, import_price_list
from desk.session.setup.price_workbook import PriceTable
from desk.session.words.services import service_words
from desk.ui.bridge import Desk
from desk.ui.kit import type as typeface
from desk.ui.kit.card import Inked
from desk.ui.kit.fields.choice_fields import ONE_COLUMN_FROM, ChoiceField
from desk.ui.kit.fields.field import FaultLine
from desk.ui.kit.fields.text_fields import LineField
from desk.ui.kit.form import Form, Scrolled
from desk.ui.kit.rows import TextRows
from desk.ui.kit.table import PlainTable
from desk.ui.reading import FileReading
from desk.ui.setup.prices.tried_on import tried_on

CHANGE_WIDTHS = (214, 110, 80, 84, 84, 84, 210)  # pixels at 100%
EFFECT_WIDTHS = (170, 110, 214, 110, 70, 84, 84, 90)
MOST_FAULTS, LEAST = 8, 300  # least height of a table in pixels, where the page scrolls
TABLES_HIGH = 150  # pixels that the tables of a workbook may take before they scroll
NOT_IMPORTED = ("", "Do not import")


class ImportPanel(QWidget):
    """The preview of one file. `ended`: imported or closed; `imported`: with its effect."""

    ended = Signal()
    imported = Signal(str)

    def __init__(self, desk: Desk, shelf: PriceListFolders) -> None:
        super().__init__()
        self._desk, self._shelf = desk, shelf
        self.path = Path()
        self._reading = FileReading(desk, self)
        self._is_wanted = False  # Import was pressed while the file was read
        self.preview: ChartPreview | None = None
        self.effect: PriceEffect | None = None
        self.heading, self.summary = Inked(size=typeface.STRONG, bold=True), Inked(size=typeface.BODY)
        self.meaning = Inked(size=typeface.BODY)
        for line in (self.summary, self.meaning):
            line.setWordWrap(True)
        self.faults = FaultLine()
        self.form = Form(
            [
                LineField("effective", "First day, such as 2026-07-12"),
                LineField("until", "Last day, if known", hint="unknown"),
                LineField("source", "Where the list is from", hint="file name"),
                ChoiceField("service", "Service", [("", "From its service column"), *self._services()]),
            ]
        )
        self.form.left.connect(lambda _name: self._compare_again())
        self.tables: Form | None = None  # the service of each table of a workbook
        self.tables_place = QVBoxLayout()
        self.changes, self.effects = TextRows(CHANGE_HEADS, (3, 4, 5)), TextRows(EFFECT_HEADS, (4, 5, 6, 7))
        self.table = PlainTable("Price changes")
        self._build()

    def _build(self) -> None:
        self.import_button, self.cancel_button = QPushButton("Import"), QPushButton("Cancel")
        self.turn_button = QPushButton()
        buttons = QHBoxLayout()
        slots = (self.take, self.ended.emit, lambda: self.show_meaning(not self.shows_meaning()))
        for button, slot in zip((self.import_button, self.cancel_button, self.turn_button), slots, strict=True):
            button.clicked.connect(lambda _checked=False, slot=slot: slot())
            buttons.addWidget(button)
        for button in (self.import_button, self.cancel_button):
            button.setAccessibleName(button.text())
        buttons.addStretch(1)
        self.table.horizontalHeader().setStretchLastSection(True)
        self.show_meaning(False)
        place = QWidget()
        place.setLayout(self.tables_place)
        self.tables_place.setContentsMargins(0, 0, 0, 0)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        parts = (self.heading, self.form, place, self.summary, self.meaning, self.faults, self.table)
        if typeface.scale() >= ONE_COLUMN_FROM:  # without room for everything the whole page scrolls
            self.table.setMinimumHeight(LEAST)
            column.addWidget(Scrolled("A new price list", *parts), 1)
        else:
            for part in parts:
                column.addWidget(part, 1 if part is self.table else 0)
        column.addLayout(buttons)

    def look_into(self, path: Path) -> None:
        """Compare a file of prices, starting on the mailing date unless another first day is typed."""
        self.forget()
        self.path = path
        self.form.show_values({"effective": self._desk.pile.terms.on.isoformat()}, fresh=True)
        self.form.setVisible(not is_folder_head(path))  # a whole folder has all of this itself
        self.show_meaning(False)
        self.heading.setText(path.parent.name if is_folder_head(path) else path.name)
        self.tables = None
        self._show(None)
        self._reading.read(lambda: _tables_of(path), self._offer_services)

    def arrive(self) -> None:
        """Put the focus on the first day."""
        (self.cancel_button if is_folder_head(self.path) else self.form.fields["effective"]).setFocus()

    def take(self) -> None:
        """Import the list, once it was read with what the fields say; the previous one stays in use for earlier days."""
        self._is_wanted = self._reading.is_busy
        if self._is_wanted or self.preview is None or self.preview.faults:
            return
        meaning = self.meaning.text()
        if self._desk.do(import_price_list, self._shelf, self.preview) is not None:
            self.ended.emit()
            self.imported.emit(meaning)

    def forget(self) -> None:
        """Stop reading the file, and don't import it."""
        self._is_wanted = False
        self._reading.drop()

    @property
    def is_reading(self) -> bool:
        """True until the file was read and compared."""
        return self._reading.is_busy

    def shows_meaning(self) -> bool:
        """Return True while the table shows what the change means."""
        return self.table.model() is self.effects

    def show_meaning(self, meaning: bool) -> None:
        """Show the commonest pieces before and after, or the changed prices."""
        self.table.setModel(self.effects if meaning else self.changes)
        self.table.set_widths(EFFECT_WIDTHS if meaning else CHANGE_WIDTHS)
        self.turn_button.setText("Show price changes" if meaning else "Show my common pieces")
        self.turn_button.setAccessibleName(self.turn_button.text())

    def _services(self) -> list[tuple[str, str]]:
        services = self._desk.sitting.rulebook.charts.services()
        return sorted(((service, service_words(service)) for service in services), key=lambda pair: pair[1])

    def _offer_services(self, tables: Sequence[PriceTable]) -> None:
        """Offer a service for each table of a workbook, the sure ones chosen; then compare."""
        while item := self.tables_place.takeAt(0):
            if widget := item.widget():
                widget.deleteLater()
        self.form.fields["service"].setVisible(len(tables) < 2)
        if len(tables) > 1:
            self._show_tables(tables)
        self._compare()

    def _show_tables(self, tables: Sequence[PriceTable]) -> None:
        choices = [NOT_IMPORTED, *self._services()]
        self.tables = Form([ChoiceField(table.name, table.name, choices) for table in tables])
        self.tables.show_values({table.name: table.guess for table in tables}, fresh=True)
        self.tables.left.connect(lambda _name: self._compare_again())
        scrolled = Scrolled("Tables of the workbook", self.tables)
        scrolled.setMaximumHeight(round(TABLES_HIGH * typeface.scale()))
        self.tables_place.addWidget(scrolled)

    def _compare_again(self) -> None:
        """Compare because a field was changed; only Import pressed after this counts."""
        self.forget()
        for form in filter(None, (self.form, self.tables)):
            form.show_values(form.values())  # so that going back to an earlier value is a change too
        self._compare()

    def _compare(self) -> None:
        """Read the file with what the fields say, and show what it changes."""
        head, charts, path = self._head(), self._desk.sitting.rulebook.charts, self.path
        if head is None:
            self._show(None)
            return
        self.preview = None  # it is shown until the new one comes, but not imported
        self._reading.read(lambda: preview_chart(path, head, charts), self._show)

    def _show(self, preview: ChartPreview | None) -> None:
        """Show what a list changes, or its faults; nothing without one."""
        self.preview = preview
        faults = preview.faults if preview else ()
        lines = [str(fault) for fault in faults[:MOST_FAULTS]]
        more = [f"and {len(faults) - len(lines)} more"] if len(faults) > len(lines) else []
        self.faults.say(Severity.STOP, "\n".join(lines + more))
        self.effect, meaning = self._effect(preview) if preview and not faults else (None, "")
        self.summary.setText(preview_words(preview) if preview and not faults else "")
        self.meaning.setText(meaning)
        for line in (self.summary, self.meaning):
            line.setVisible(bool(line.text()))
        self.changes.show_rows(change_rows(preview) if preview else ())
        self.effects.show_rows(effect_rows(self.effect) if self.effect else ())
        self.import_button.setEnabled(preview is not None and not faults)
        if self._is_wanted:
            self.take()

    def _effect(self, preview: ChartPreview) -> tuple[PriceEffect, str]:
        verdicts, terms, before = tried_on(self._desk)
        charts = self._desk.sitting.rulebook.charts.with_lists(preview.lists)
        effective = max(chart.effective for chart in preview.lists)
        effect = price_effect(verdicts, terms, charts, effective)
        month, mailed = mailed_last_month(self._desk.sitting, self._desk.pile)
        month_words = last_month_words(last_month(month, mailed, self._desk.pile.terms, charts, effective))
        return effect, " ".join(filter(None, (before + effect_words(effect), month_words)))

    def _head(self) -> ListHead | None:
        """Return what the fields say; None when a date can't be read, with the fault at its field."""
        values, days = self.form.texts(), {}
        for name in ("effective", "until"):
            self.form.fields[name].say()
            try:
                days[name] = day_of(values[name])
            except Refused as refused:
                self.form.fields[name].say(Severity.STOP, refused.sentence)
        effective, until = days.get("effective"), days.get("until")
        if "effective" in days and effective is None:
            self.form.fields["effective"].say(Severity.STOP, "Enter the first day of the list.")
        if effective is None or "until" not in days:
            return None
        if until is not None and until < effective:
            self.form.fields["until"].say(Severity.STOP, "The last day can't come before the first.")
            return None
        services = self.tables.texts() if self.tables is not None else {}
        return ListHead(effective, until, values["source"], service=values["service"], services=services)


def _tables_of(path: Path) -> Sequence[PriceTable]:
    """Return a workbook's tables; none for other files, and for one whose faults the comparison shows."""
    try:
        return () if is_folder_head(path) else workbook_tables(path)
    except Unreadable:
        return ()
