"""The exchange rates page: dollars for one unit of each currency, with date and source."""

from __future__ import annotations

from PySide6.QtWidgets import QPushButton, QWidget

from desk.domain.severity import Severity
from desk.session.setup.exchange_rates import RateRow, rate_rows, remove_rate, save_rate
from desk.session.words.figures import day_in_words, measure
from desk.ui.bridge import Desk, Event
from desk.ui.kit.card import Inked
from desk.ui.kit.fields.text_fields import LineField
from desk.ui.kit.form import Form
from desk.ui.kit.rows import TextRows
from desk.ui.kit.table import PlainTable
from desk.ui.kit.wrapping import FlowLayout
from desk.ui.setup.customs.lay_out import lay_out
from desk.ui.setup.page import Page

TITLE = "Exchange rates"
HEADS = ("Currency", "Dollars per unit", "Date", "Status", "Source")
WIDTHS = (90, 120, 150, 260, 260)
WORDS = (
    "Used to compare values with limits and to show dollars on customs worksheets. The rates that come with the program "
    "are approximate. They are used only where a value is clearly under or over a limit. Enter today's rate for the "
    "currencies you use."
)


class RatesPage(Page):
    """Type a rate above and save it with Enter; selecting a row puts it into the fields."""

    def __init__(self, desk: Desk) -> None:
        super().__init__(desk, TITLE)
        self.form = Form(
            [
                LineField("currency", "Currency code", hint="EUR"),
                LineField("rate", "Dollars per unit", hint=measure("1.1172")),
                LineField("date", "Date of the rate (empty: today)", hint="2026-11-25"),
                LineField("source", "Source", hint="my bank"),
            ]
        )
        self.model = TextRows(HEADS, (1,))
        self.table = PlainTable(TITLE)
        self.table.setModel(self.model)
        self.table.set_widths(WIDTHS, dropped_first=(4, 2), grows=(3, 4), fits=(0, 1, 2))
        self.save_button, self.remove_button = QPushButton("&Save rate"), QPushButton("&Remove my rate")
        self._rows: tuple[RateRow, ...] = ()
        self._build()
        self.table.selectionModel().currentRowChanged.connect(lambda _now, _before: self._show_chosen())

    def _build(self) -> None:
        words = Inked(WORDS, "soft_ink")
        words.setWordWrap(True)
        buttons = QWidget()
        line = FlowLayout(buttons)
        for button, act in ((self.save_button, self.save), (self.remove_button, self.remove)):
            button.setAccessibleName(button.text().replace("&", ""))
            button.clicked.connect(lambda _checked=False, act=act: act())
            line.addWidget(button)
        lay_out(self, (words, self.form, buttons), self.table)
        for field in self.form.fields.values():
            if isinstance(field, LineField):
                field.edit.returnPressed.connect(self.save)

    def refresh(self) -> None:
        """Show the rates in use."""
        self._rows = rate_rows(self.desk.pile.terms)
        cells = [(row.currency, row.rate, day_in_words(row.on), row.remark, row.source) for row in self._rows]
        self.model.show_rows(cells)

    def arrive(self) -> None:
        """Put the focus on the first field."""
        self.form.fields["currency"].setFocus()

    def save(self) -> None:
        """Save the rate in the fields."""
        values = self.form.texts()
        faults = self.desk.do(save_rate, values)
        if faults is None:
            return
        self.form.show_faults((fault.field, Severity.STOP, fault.sentence) for fault in faults)
        if not faults:
            self._clear()

    def remove(self) -> None:
        """Remove the shop's own rate for the chosen currency."""
        row = self._chosen()
        if row is None or not row.is_own:
            self.desk.happened.emit(Event("Choose one of your own rates first.", Severity.LOOK))
            return
        self.desk.do(remove_rate, row.currency)
        self._clear()

    def _clear(self) -> None:
        self.form.show_values(dict.fromkeys(self.form.fields, ""), fresh=True)
        self.form.fields["currency"].setFocus()

    def _chosen(self) -> RateRow | None:
        place = self.table.currentIndex().row()
        return self._rows[place] if 0 <= place < len(self._rows) else None

    def _show_chosen(self) -> None:
        """Put the chosen rate into the fields; its date stays empty, since a rate typed now is today's."""
        if (row := self._chosen()) is not None:
            self.form.show_values({**row.texts, "date": "", "source": row.source if row.is_own else ""}, fresh=True)
