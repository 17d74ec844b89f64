"""The charts page: the price lists there are, a new one taken in, the cells and dates of one, and the shop's zone chart."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

from PySide6.QtCore import Qt
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import QFileDialog, QPushButton, QStackedWidget, QVBoxLayout, QWidget

from desk.domain.faults import Unreadable
from desk.session.setup.own_rules import drop_zones, load_zones, own_zones, read_zones
from desk.session.setup.price_list_words import LIST_HEADS, ListRow, list_rows
from desk.session.setup.price_lists import Shelf
from desk.ui.bridge import Desk
from desk.ui.kit import type as typeface
from desk.ui.kit.card import Inked
from desk.ui.kit.field import FaultLine
from desk.ui.kit.rows import TextRows
from desk.ui.kit.table import PlainTable
from desk.ui.kit.wrapping import FlowLayout
from desk.ui.setup.page import Page
from desk.ui.setup.prices.cells import CellsPanel
from desk.ui.setup.prices.import_panel import TakeInPanel

TITLE = "Charts"
TABLES, ZONES = "Tables and charts (*.csv *.tsv *.txt *.xlsx *.ods chart.toml)", "Zone chart (*.csv)"
MOST_FAULTS = 6
WIDTHS = (224, 96, 96, 168, 84, 150, 240)  # pixels at 100 %


class ChartsPage(Page):
    """Three panels, one at a time: the lists, a list to be taken in, the cells of one. Escape goes back to the lists."""

    def __init__(self, desk: Desk) -> None:
        super().__init__(desk, TITLE)
        own = desk.own_lists or Path()
        self.shelf = Shelf(desk.resources / "charts", own)
        self.take_in, self.cells = TakeInPanel(desk, self.shelf), CellsPanel(desk, self.shelf)
        self.rows: tuple[ListRow, ...] = ()
        self.model = TextRows(LIST_HEADS, (4,))
        self.stack = QStackedWidget()
        for panel in (self._build_lists(), self.take_in, self.cells):
            self.stack.addWidget(panel)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 8)
        column.addWidget(self.stack)
        for panel in (self.take_in, self.cells):
            panel.ended.connect(self.back)

    def _build_lists(self) -> QWidget:
        lists = QWidget()
        self.table = PlainTable("Price lists")
        self.table.setModel(self.model)
        self.table.set_widths(WIDTHS, dropped_first=(5, 4, 6, 2))
        self.table.horizontalHeader().setStretchLastSection(True)
        self.table.entered_row.connect(self.open_row)
        self.zone_words = Inked(role="soft_ink", size=typeface.SMALL)
        self.zone_words.setWordWrap(True)
        self.zone_fault = FaultLine()
        self.add_button = self._button("Take in a list …", self.add)
        self.open_button = self._button("Cells and dates", lambda: self.open_row(self.table.currentIndex().row()))
        self.load_button = self._button("Load a zone chart …", self.ask_for_zones)
        self.drop_button = self._button("Remove the zone chart", lambda: self.desk.do(drop_zones))
        buttons = FlowLayout(gap=8)
        for button in (self.add_button, self.open_button, self.load_button, self.drop_button):
            buttons.addWidget(button)
        column = QVBoxLayout(lists)
        column.setContentsMargins(0, 0, 0, 0)
        column.addWidget(self.table, 1)
        column.addWidget(self.zone_words)
        column.addWidget(self.zone_fault)
        column.addLayout(buttons)
        return lists

    def _button(self, words: str, slot: Callable[[], object]) -> QPushButton:
        button = QPushButton(words)
        button.setAccessibleName(words)
        button.clicked.connect(lambda _checked=False: slot())
        return button

    def refresh(self) -> None:
        """Show the lists as they are now."""
        self.rows = list_rows(self.desk.sitting.rulebook.charts, self.desk.pile.terms.on)
        kept = max(0, self.table.currentIndex().row())
        self.model.show_rows([row.words for row in self.rows])
        self.table.selectRow(min(kept, len(self.rows) - 1))
        zones = own_zones(self.desk.sitting)
        own = "Zones: the post's own chart for {prefix}, {edition}, {count} prefixes."
        general = "Zones: the general matrix of {edition}. The post's own chart for your ZIP code is surer."
        edition = self.desk.sitting.rulebook.zones.edition
        said = own.format(prefix=zones.prefix, edition=zones.edition, count=len(zones.rows))
        self.zone_words.setText(said if zones.rows else general.format(edition=edition))
        self.drop_button.setVisible(bool(zones.rows))
        self.cells.refresh()

    def arrive(self) -> None:
        """Put the focus where work goes on."""
        panel = self.stack.currentWidget()
        if isinstance(panel, TakeInPanel | CellsPanel):
            panel.arrive()
        else:
            self.table.setFocus()

    def add(self) -> None:
        """Let the person choose a file of prices, and look into it."""
        name, _ = QFileDialog.getOpenFileName(self, "Take in a list", "", TABLES)
        if name:
            self.look_into(Path(name))

    def look_into(self, path: Path) -> None:
        """Show what a file of prices changes."""
        self.take_in.look_into(path)
        self.stack.setCurrentWidget(self.take_in)
        self.take_in.arrive()

    def open_row(self, row: int) -> None:
        """Open the cells and dates of the list in that row."""
        if 0 <= row < len(self.rows):
            chosen = self.rows[row]
            self.cells.open(chosen.service, chosen.chart)
            self.stack.setCurrentWidget(self.cells)
            self.cells.arrive()

    def ask_for_zones(self) -> None:
        """Let the person choose a zone chart, and load it."""
        name, _ = QFileDialog.getOpenFileName(self, "Load a zone chart", "", ZONES)
        if name:
            self.load_zones(Path(name))

    def load_zones(self, path: Path) -> None:
        """Load a zone chart; what is wrong with it stands here, with its line."""
        try:
            found = read_zones(path)
        except Unreadable as unreadable:
            self.zone_fault.say("stop", "\n".join(str(fault) for fault in unreadable.faults[:MOST_FAULTS]))
            return
        self.zone_fault.say("", "")
        self.desk.do(load_zones, found, path.name)

    def back(self) -> None:
        """Go back to the lists."""
        self.stack.setCurrentIndex(0)
        self.arrive()

    def keyPressEvent(self, event: QKeyEvent) -> None:
        if event.key() == Qt.Key.Key_Escape and self.stack.currentIndex():
            self.back()
        else:
            super().keyPressEvent(event)
