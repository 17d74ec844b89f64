"""The destinations page: the age of the lists, suspended countries, and what you confirmed with the post."""

from __future__ import annotations

from pathlib import Path

from PySide6.QtWidgets import QPushButton, QWidget

from desk.domain.faults import FileFault, fault_lines
from desk.domain.severity import Severity
from desk.session.setup.destination_rules import (
    DestinationRow,
    Rules,
    check_country,
    drop_destinations,
    keep_destinations,
    list_days,
    read_destinations,
    suspended_rows,
)
from desk.session.words.figures import counted, day_in_words
from desk.ui.bridge import Desk, Event
from desk.ui.kit import type as typeface
from desk.ui.kit.card import Inked
from desk.ui.kit.files import file_to_open
from desk.ui.kit.rows import TextRows
from desk.ui.kit.table import PlainTable
from desk.ui.kit.wrapping import FlowLayout
from desk.ui.reading import FileReading
from desk.ui.setup.customs.lay_out import lay_out
from desk.ui.setup.page import Page

TITLE = "Destinations"
HEADS = ("Country", "Suspended on", "Applies to", "Resumed, checked on", "Source")
WIDTHS = (190, 150, 140, 190, 260)
TABLES = "Tables (*.csv *.tsv *.txt *.xlsx *.ods)"
NAMES = {
    "suspended": "Suspended countries",
    "import-limit": "Import limits",
    "seller-number": "Seller's tax numbers",
    "duty-per-code": "Duty for each HS code",
}
WORDS = (
    "The post has suspended mail to these countries. Check its service alerts before you rely on this list. For newer "
    "rules, import a table with the columns country, rule, value, valid_from, valid_until and source. A row replaces the "
    "same rule for its country, and a row list-of replaces a whole list. Sanctions always stay."
)


class DestinationsPage(Page):
    """The lists with their age, and a button to confirm that mail to a country has resumed."""

    def __init__(self, desk: Desk) -> None:
        super().__init__(desk, TITLE)
        self.words, self.fault = Inked("", "soft_ink", typeface.SMALL), Inked(role="stop")
        self.model = TextRows(HEADS)
        self.table = PlainTable("Suspended countries")
        self.table.setModel(self.model)
        self.table.set_widths(WIDTHS, dropped_first=(4, 2, 3), grows=(0, 2, 4), fits=(1, 3))
        self.check_button = QPushButton("&Mark as resumed today")
        self.import_button = QPushButton("&Import a list…")
        self.drop_button = QPushButton("&Use the program's lists")
        self._rows: tuple[DestinationRow, ...] = ()
        self._reading = FileReading(desk, self)
        self._build()
        self.table.entered_row.connect(lambda _row: self.check())

    def _build(self) -> None:
        for label in (self.words, self.fault):
            label.setWordWrap(True)
        buttons = QWidget()
        line = FlowLayout(buttons)
        acts = (self.check_button, self.check), (self.import_button, self.ask_file), (self.drop_button, self.drop)
        for button, act in acts:
            button.setAccessibleName(button.text().replace("&", "").removesuffix("…"))
            button.clicked.connect(lambda _checked=False, act=act: act())
            line.addWidget(button)
        lay_out(self, (self.words, buttons, self.fault), self.table)

    def refresh(self) -> None:
        """Show the lists in use."""
        terms = self.desk.pile.terms
        known = terms.rulebook.destinations
        self._rows = suspended_rows(known, terms.on)
        self.model.show_rows([_cells(row) for row in self._rows])
        ages = [f"{NAMES[kind]}: list of {day_in_words(day)}." for kind, day in list_days(known)]
        self.words.setText(" ".join((WORDS, *ages)))

    def arrive(self) -> None:
        """Put the focus on the countries."""
        (self.table if self._rows else self.import_button).setFocus()

    def check(self) -> None:
        """Record that mail to the selected country has resumed."""
        place = self.table.currentIndex().row()
        if not 0 <= place < len(self._rows):
            self.desk.happened.emit(Event("Choose a country first.", Severity.LOOK))
            return
        self.desk.do(check_country, self._rows[place].country)
        self.table.selectRow(place)

    def ask_file(self) -> None:
        """Ask for a list and use it."""
        if (file := file_to_open(self, "Import a list of destinations", TABLES)) is not None:
            self.import_list(file)

    def import_list(self, path: Path) -> None:
        """Read a list in the background and use it; one that can't be read says why."""
        if self._reading.is_busy:
            return
        self.fault.setText("")
        self.import_button.setEnabled(False)
        countries = self.desk.sitting.rulebook.countries
        self._reading.read(
            lambda: read_destinations(path, countries), lambda read: self._use(read, path.name), self._fail
        )

    def _use(self, read: Rules, name: str) -> None:
        self.import_button.setEnabled(True)
        count = self.desk.do_quietly(keep_destinations, read, name)
        if count is not None:
            self.desk.happened.emit(Event(f"Imported {counted(count, 'row')}: {name}", undo=True))

    def _fail(self, faults: tuple[FileFault, ...]) -> None:
        self.import_button.setEnabled(True)
        self.fault.setText("\n".join(fault_lines(faults, 8)))

    def drop(self) -> None:
        """Use the shipped lists again."""
        self.desk.do(drop_destinations)


def _cells(row: DestinationRow) -> tuple[str, ...]:
    alert, checked = (day_in_words(day) if day else "" for day in (row.alert_on, row.checked))
    return row.name, alert, row.extent, checked, row.source
