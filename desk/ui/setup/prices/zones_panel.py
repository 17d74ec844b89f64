"""Preview a zone chart before it is imported: how many pieces change zone, and what that costs."""

from __future__ import annotations

from pathlib import Path

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QHBoxLayout, QPushButton, QVBoxLayout, QWidget

from desk.domain.faults import FileFault
from desk.domain.severity import Severity
from desk.session.setup.own_rules import OwnZones, load_zones, read_zones
from desk.session.setup.price_effect import zone_effect
from desk.session.setup.price_list_words import ZONE_HEADS, zone_effect_words, zone_rows
from desk.ui.bridge import Desk
from desk.ui.kit import type as typeface
from desk.ui.kit.card import Inked
from desk.ui.kit.fields.field import FaultLine
from desk.ui.kit.rows import TextRows
from desk.ui.kit.table import PlainTable
from desk.ui.reading import FileReading
from desk.ui.setup.prices.tried_on import tried_on

WIDTHS = (90, 90, 70, 92, 92, 92)  # pixels at 100%
MOST_FAULTS = 6
NO_ZIP = "A zone chart is for one ZIP code. Enter yours in Setup > Sender first."


class ZonesPanel(QWidget):
    """The preview of one zone chart. `ended`: imported or closed; `imported`: with its effect."""

    ended = Signal()
    imported = Signal(str)

    def __init__(self, desk: Desk) -> None:
        super().__init__()
        self._desk = desk
        self._chart: OwnZones | None = None
        self._reading = FileReading(desk, self)
        self.heading, self.meaning = Inked(size=typeface.STRONG, bold=True), Inked(size=typeface.BODY)
        self.meaning.setWordWrap(True)
        self.faults = FaultLine()
        self.moves = TextRows(ZONE_HEADS, (0, 1, 2, 3, 4, 5))
        self.table = PlainTable("Pieces that change zone")
        self.table.setModel(self.moves)
        self.table.set_widths(WIDTHS)
        self.import_button, self.cancel_button = QPushButton("Import"), QPushButton("Cancel")
        buttons = QHBoxLayout()
        for button, slot in ((self.import_button, self.take), (self.cancel_button, self.ended.emit)):
            button.setAccessibleName(button.text())
            button.clicked.connect(lambda _checked=False, slot=slot: slot())
            buttons.addWidget(button)
        buttons.addStretch(1)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        for part in (self.heading, self.meaning, self.faults):
            column.addWidget(part)
        column.addWidget(self.table, 1)
        column.addLayout(buttons)

    def look_into(self, path: Path) -> None:
        """Compare a file of zones with those in use."""
        self.heading.setText(path.name)
        if len(self._desk.pile.terms.shop.sender.postal_code) < 3:
            self._show(None, NO_ZIP)
            return
        self._show(None, "")
        self._reading.read(lambda: read_zones(path), lambda chart: self._show(chart, ""), self._fail)

    def _fail(self, faults: tuple[FileFault, ...]) -> None:
        self._show(None, "\n".join(str(fault) for fault in faults[:MOST_FAULTS]))

    def _show(self, chart: OwnZones | None, faults: str) -> None:
        """Show what a chart changes, or why there is none; nothing while it is read."""
        self._chart = chart
        self.moves.show_rows(())
        self.faults.say(Severity.STOP if faults else None, faults)
        self.meaning.setText(self._compared(chart) if chart else "")
        self.meaning.setVisible(bool(self.meaning.text()))
        self.table.setVisible(bool(self.moves.rows))
        self.import_button.setEnabled(chart is not None)
        if self.cancel_button.hasFocus():
            self.arrive()

    @property
    def is_reading(self) -> bool:
        """True until the file was read and compared."""
        return self._reading.is_busy

    def arrive(self) -> None:
        """Put the focus on the button that goes on."""
        (self.import_button if self._chart else self.cancel_button).setFocus()

    def take(self) -> None:
        """Import the chart that is shown."""
        if self._chart is not None and self._desk.do(load_zones, self._chart, self.heading.text()) is not None:
            self.ended.emit()
            self.imported.emit(self.meaning.text())

    def _compared(self, chart: OwnZones) -> str:
        verdicts, terms, before = tried_on(self._desk)
        prefix = terms.shop.sender.postal_code[:3]
        zones = self._desk.sitting.rulebook.zones.with_chart(chart.rows, prefix, chart.edition)
        effect = zone_effect(verdicts, terms, zones)
        self.moves.show_rows(zone_rows(effect))
        return before + zone_effect_words(effect)
