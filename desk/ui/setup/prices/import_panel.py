"""A new price list before it is taken in: from when and until when, what is wrong with the file, what each cell becomes."""

from __future__ import annotations

from pathlib import Path

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QHBoxLayout, QPushButton, QVBoxLayout, QWidget

from desk.domain.faults import Refused
from desk.session.setup.price_list_preview import ListHead, is_folder_head, preview_chart
from desk.session.setup.price_list_words import CHANGE_HEADS, change_rows, day_of, preview_words
from desk.session.setup.price_lists import ChartPreview, Shelf, take_in_chart
from desk.session.words.services import service_words
from desk.ui.bridge import Desk
from desk.ui.kit import type as typeface
from desk.ui.kit.card import Inked
from desk.ui.kit.field import ONE_COLUMN_FROM, ChoiceField, FaultLine, LineField
from desk.ui.kit.form import Form, Scrolled
from desk.ui.kit.rows import TextRows
from desk.ui.kit.table import PlainTable
from desk.ui.setup.page import say

WIDTHS = (214, 70, 80, 84, 84, 100, 190)  # pixels at 100 %
MOST_FAULTS, LEAST = 8, 300  # pixels a table keeps where the page scrolls


class TakeInPanel(QWidget):
    """The preview of one file; `ended` when it was taken in or left."""

    ended = Signal()

    def __init__(self, desk: Desk, shelf: Shelf) -> None:
        super().__init__()
        self._desk, self._shelf = desk, shelf
        self.path = Path()
        self.preview: ChartPreview | None = None
        self.heading, self.told = Inked(size=typeface.STRONG, bold=True), Inked(size=typeface.BODY)
        self.told.setWordWrap(True)
        self.faults = FaultLine()
        services = sorted(desk.sitting.rulebook.charts.services())
        named = [("", say("as its column service says")), *((service, service_words(service)) for service in services)]
        self.form = Form(
            [
                LineField("effective", say("First day, such as 2026-07-12")),
                LineField("until", say("Last day the prices are known for"), hint=say("not known")),
                LineField("source", say("Where the list is from"), hint=say("the name of the file")),
                ChoiceField("service", say("Service"), named),
            ]
        )
        self.form.left.connect(lambda _name: self._look())
        self.model = TextRows(CHANGE_HEADS, (3, 4, 5))
        self.table = PlainTable("What changes, cell by cell")
        self._build()

    def _build(self) -> None:
        self.table.setModel(self.model)
        self.table.set_widths(WIDTHS)
        self.table.horizontalHeader().setStretchLastSection(True)
        self.take_button, self.leave_button = QPushButton("Take in"), QPushButton("Leave it")
        buttons = QHBoxLayout()
        for button, slot in ((self.take_button, self.take), (self.leave_button, self.ended.emit)):
            button.setAccessibleName(button.text())
            button.clicked.connect(lambda _checked=False, slot=slot: slot())
            buttons.addWidget(button)
        buttons.addStretch(1)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        parts = (self.heading, self.form, self.told, self.faults, self.table)
        if typeface.scale() >= ONE_COLUMN_FROM:  # no room for all at once: the whole scrolls
            self.table.setMinimumHeight(LEAST)
            column.addWidget(Scrolled("A new price list", *parts), 1)
        else:
            for part in parts:
                column.addWidget(part, 1 if part is self.table else 0)
        column.addLayout(buttons)

    def look_into(self, path: Path) -> None:
        """Show what a file of prices changes, from the posting date on unless another first day is typed."""
        self.path = path
        self.form.show_values({"effective": self._desk.pile.terms.on.isoformat()}, fresh=True)
        self.form.setVisible(not is_folder_head(path))  # a whole chart says all of it itself
        self._look()

    def arrive(self) -> None:
        """Put the focus on the first day."""
        (self.leave_button if is_folder_head(self.path) else self.form.fields["effective"]).setFocus()

    def take(self) -> None:
        """Take the list in; the one before stays for the days before."""
        if self.preview is None or self.preview.faults:
            return
        if self._desk.do(take_in_chart, self._shelf, self.preview) is not None:
            self.ended.emit()

    def _look(self) -> None:
        self.heading.setText(self.path.parent.name if is_folder_head(self.path) else self.path.name)
        head = self._head()
        self.preview = preview_chart(self.path, head, self._desk.sitting.rulebook.charts) if head else None
        found = self.preview
        faults = found.faults if found else ()
        lines = [str(fault) for fault in faults[:MOST_FAULTS]]
        more = [f"and {len(faults) - len(lines)} more"] if len(faults) > len(lines) else []
        self.faults.say("stop", "\n".join(lines + more))
        self.told.setText(preview_words(found) if found and not faults else "")
        self.told.setVisible(bool(self.told.text()))
        self.model.show_rows(change_rows(found) if found else ())
        self.take_button.setEnabled(found is not None and not faults)

    def _head(self) -> ListHead | None:
        """What the fields say; None when a day is none, and that stands at its field."""
        values, days = self.form.values(), {}
        for name in ("effective", "until"):
            self.form.fields[name].say()
            try:
                days[name] = day_of(values[name])
            except Refused as refused:
                self.form.fields[name].say("stop", refused.sentence)
        effective, until = days.get("effective"), days.get("until")
        if "effective" in days and effective is None:
            self.form.fields["effective"].say("stop", "Needed: the day from which the list holds.")
        if effective is None or "until" not in days:
            return None
        if until is not None and until < effective:
            self.form.fields["until"].say("stop", "The last day cannot come before the first.")
            return None
        return ListHead(effective, until, values["source"], service=values["service"])
