"""The price lists page: the lists, importing one, the prices and dates of one, and your zone chart."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

from PySide6.QtCore import Qt
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import QPushButton, QStackedWidget, QVBoxLayout, QWidget

from desk.domain.severity import Severity
from desk.session.setup.own_rules import drop_zones, own_zones
from desk.session.setup.price_list_words import LIST_HEADS, ZONE_CHART, ListRow, list_rows, zones_in_use
from desk.session.setup.price_lists import PriceListFolders
from desk.ui.bridge import Desk, Event
from desk.ui.kit import type as typeface
from desk.ui.kit.card import Inked
from desk.ui.kit.files import file_to_open
from desk.ui.kit.rows import TextRows
from desk.ui.kit.table import PlainTable
from desk.ui.kit.wrapping import FlowLayout
from desk.ui.setup.page import Page
from desk.ui.setup.prices.cells import CellsPanel
from desk.ui.setup.prices.import_panel import ImportPanel
from desk.ui.setup.prices.zones_panel import ZonesPanel

TITLE = "Price lists"
TABLES = "Price lists (*.csv *.tsv *.txt *.xlsx *.ods chart.toml)"
ZONES = "Zone charts (*.csv *.tsv *.txt *.xlsx *.ods)"
WIDTHS = (214, 104, 104, 200, 84, 330, 180)  # pixels at 100%


class PriceListsPage(Page):
    """Three panels, one at a time: the lists, an import, the prices of one. Escape goes back to the lists."""

    def __init__(self, desk: Desk) -> None:
        super().__init__(desk, TITLE)
        own = desk.own_lists or Path()
        self.shelf = PriceListFolders(desk.resources / "charts", own)
        self.importing, self.cells = ImportPanel(desk, self.shelf), CellsPanel(desk, self.shelf)
        self.zones = ZonesPanel(desk)
        self.rows: tuple[ListRow, ...] = ()
        self.model = TextRows(LIST_HEADS, (4,))
        self.stack = QStackedWidget()
        for panel in (self._build_lists(), self.importing, self.cells, self.zones):
            self.stack.addWidget(panel)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 8)
        column.addWidget(self.stack)
        for panel in (self.importing, self.cells, self.zones):
            panel.ended.connect(self.back)
        for panel in (self.importing, self.zones):
            panel.imported.connect(self.show_effect)

    def _build_lists(self) -> QWidget:
        lists = QWidget()
        self.table = PlainTable("Price lists")
        self.table.setModel(self.model)
        self.table.set_widths(WIDTHS, dropped_first=(6, 4, 2, 5), grows=(0, 3, 5, 6), fits=(1, 2))
        self.table.entered_row.connect(self.open_row)
        self.sure_line = Inked(role="soft_ink", size=typeface.SMALL)
        self.sure_line.setWordWrap(True)
        self.table.selectionModel().currentRowChanged.connect(lambda *_: self._say_how_sure())
        self.zone_words = Inked(role="soft_ink", size=typeface.SMALL)
        self.zone_words.setWordWrap(True)
        self.effect_line = Inked(size=typeface.BODY)
        self.effect_line.setWordWrap(True)
        self.effect_line.hide()
        self.add_button = self._button("Import price list…", self.add)
        self.open_button = self._button("Edit prices and dates", lambda: self.open_row(self.table.currentIndex().row()))
        self.load_button = self._button("Import zone chart…", self.ask_for_zones)
        self.drop_button = self._button("Remove zone chart", lambda: self.desk.do(drop_zones))
        buttons = FlowLayout(gap=8)
        for button in (self.add_button, self.open_button, self.load_button, self.drop_button):
            buttons.addWidget(button)
        column = QVBoxLayout(lists)
        column.setContentsMargins(0, 0, 0, 0)
        column.addWidget(self.table, 1)
        column.addWidget(self.sure_line)
        column.addWidget(self.effect_line)
        column.addWidget(self.zone_words)
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
        selected = max(0, self.table.currentIndex().row())
        self.model.show_rows([row.words for row in self.rows])
        self.table.selectRow(min(selected, len(self.rows) - 1))
        zones = own_zones(self.desk.sitting)
        matrix = self.desk.sitting.rulebook.zones.edition
        self.zone_words.setText(zones_in_use(matrix, zones.prefix, zones.edition, len(zones.rows)))
        self.drop_button.setVisible(bool(zones.rows))
        self.cells.refresh()

    def _say_how_sure(self) -> None:
        """Show the selected list's source and certainty in full, since a column may be too narrow."""
        row = self.table.currentIndex().row()
        words = self.rows[row].words if 0 <= row < len(self.rows) else ("",) * len(LIST_HEADS)
        self.sure_line.setText(f"{words[6]}: {words[5]}." if words[5] else "")

    def show_part(self, part: str) -> None:
        """Go to the zone chart, or to a list named by its service and first day: `ground-commercial 2026-07-12`.

        The selection stays where there is no such list.
        """
        self.back()
        if part == ZONE_CHART:
            self.load_button.setFocus()
            return
        rows = [row for row, one in enumerate(self.rows) if f"{one.service} {one.effective}" == part]
        if rows:
            self.table.selectRow(rows[0])
        else:
            self.desk.happened.emit(Event("That price list isn't here anymore.", Severity.LOOK))

    def arrive(self) -> None:
        """Put the focus where work continues."""
        panel = self.stack.currentWidget()
        if isinstance(panel, ImportPanel | CellsPanel | ZonesPanel):
            panel.arrive()
        else:
            self.table.setFocus()

    def add(self) -> None:
        """Ask for a file of prices, and compare it."""
        if (file := file_to_open(self, "Import price list", TABLES)) is not None:
            self.look_into(file)

    def look_into(self, path: Path) -> None:
        """Show what a file of prices changes."""
        self.importing.look_into(path)
        self.stack.setCurrentWidget(self.importing)
        self.importing.arrive()

    def open_row(self, row: int) -> None:
        """Open the prices and dates of the list in that row."""
        if 0 <= row < len(self.rows):
            chosen = self.rows[row]
            self.cells.open(chosen.service, chosen.chart)
            self.stack.setCurrentWidget(self.cells)
            self.cells.arrive()

    def ask_for_zones(self) -> None:
        """Ask for a zone chart, and compare it."""
        if (file := file_to_open(self, "Import zone chart", ZONES)) is not None:
            self.load_zones(file)

    def load_zones(self, path: Path) -> None:
        """Show what a zone chart changes, before it is imported."""
        self.show_effect("")
        self.zones.look_into(path)
        self.stack.setCurrentWidget(self.zones)
        self.zones.arrive()

    def show_effect(self, words: str) -> None:
        """Show the effect of the last import."""
        self.effect_line.setText(words)
        self.effect_line.setVisible(bool(words))

    def back(self) -> None:
        """Go back to the lists; a price list still being read is not imported."""
        self.importing.forget()
        self.stack.setCurrentIndex(0)
        self.arrive()

    def keyPressEvent(self, event: QKeyEvent) -> None:
        if event.key() == Qt.Key.Key_Escape and self.stack.currentIndex():
            self.back()
        else:
            super().keyPressEvent(event)
