"""The page before weighing: what to sort out first, and a forecast of the batch."""

from __future__ import annotations

from collections.abc import Sequence
from functools import partial

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QHBoxLayout, QPushButton, QVBoxLayout, QWidget

from desk.domain.status import PieceStatus
from desk.session.pile.before_weighing import BeforeWeighing, ThingToSortOut, look_ahead
from desk.session.pile.before_words import forecast_words, is_door, is_status, thing_words, to_settle
from desk.session.pile.sort_status import sort_status
from desk.session.pile.together import pack_together
from desk.ui.actions import Act
from desk.ui.bridge import Desk, DeskChanges
from desk.ui.common_keys import SHIPS, SKIPS, TOGETHER
from desk.ui.kit import type as typeface
from desk.ui.kit.plain import PlainLabel
from desk.ui.kit.rows import TextRows
from desk.ui.kit.table import PlainTable

MOST_COUNTED = 500  # pieces; with more, things to sort out are only searched when the page opens


class BeforeWeighingPage(QWidget):
    """The page. `opened`: a piece to open on the bench; `ended`: go back to all packages."""

    opened = Signal(int)
    ended = Signal()

    def __init__(self, desk: Desk) -> None:
        super().__init__()
        self._desk = desk
        self._is_stale = True
        self._ids: list[set[int]] = []
        self._found: BeforeWeighing | None = None
        self.things: tuple[ThingToSortOut, ...] = ()
        self.heading, self.forecast, self.words = PlainLabel("Before weighing"), PlainLabel(), PlainLabel()
        self.heading.setFont(typeface.font(typeface.HEAD, bold=True))
        for label in (self.forecast, self.words):
            label.setWordWrap(True)
        self._rows = TextRows(["Orders", "Issue", "What to do"])
        self.table = PlainTable("To sort out before weighing")
        self.table.setModel(self._rows)
        self.table.set_widths((150, 520, 480), dropped_first=(2,), grows=(1, 2))
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 8, 0, 8)
        for widget in (self.heading, self.forecast):
            column.addWidget(widget)
        column.addWidget(self.table, 1)
        column.addWidget(self.words)
        column.addStretch()
        column.addLayout(self._build_foot())
        desk.changed.connect(self._hear)
        self.table.entered_row.connect(self._open)
        self.table.selectionModel().currentRowChanged.connect(lambda *_: self._offer())

    def _build_foot(self) -> QHBoxLayout:
        self._pack = QPushButton("Send together")
        self._back = QPushButton("All packages")
        line = QHBoxLayout()
        line.addStretch(1)
        self._ship, self._skip = QPushButton("Ship these (+)"), QPushButton("Don't ship these (-)")
        buttons = (
            (self._ship, partial(self.sort, ships=True)),
            (self._skip, partial(self.sort, ships=False)),
            (self._pack, self.pack),
            (self._back, self.ended.emit),
        )
        for button, slot in buttons:
            button.setAccessibleName(button.text())
            button.clicked.connect(lambda _checked=False, slot=slot: slot())
            line.addWidget(button)
        return line

    def count(self) -> int:
        """Return how many things are still to sort out; must be quick, since every change asks."""
        verdicts = self._desk.pile.verdicts
        if self._is_stale and len(verdicts) <= MOST_COUNTED:
            self._look()
        waiting = PieceStatus.TO_WEIGH
        return sum(any(n in verdicts and verdicts[n].status is waiting for n in ids) for ids in self._ids)

    def refresh(self) -> None:
        """Check the batch again and show the result."""
        self._look()
        row = max(0, self.table.currentIndex().row())
        numbers = self._desk.pile.numbers()
        self._rows.show_rows(
            [(", ".join(numbers[key.reference] for key in one.keys), *thing_words(one)) for one in self.things]
        )
        if self._found is not None:
            nothing = "" if self.things else "Nothing to sort out first." + " "
            self.forecast.setText(nothing + forecast_words(self._found.forecast))
        self.table.setVisible(bool(self.things))
        if self.things:
            self.table.selectRow(min(row, len(self.things) - 1))
        self._offer()

    def arrive(self) -> None:
        """Put the focus in the list, or on the button back when there is nothing to sort out."""
        (self.table if self.things else self._back).setFocus()

    def acts(self) -> Sequence[Act]:
        """Return the keys of this page, for the list of keys."""
        return (
            Act("Enter", "Open on the bench"),
            Act(TOGETHER, "Send together", self.pack),
            Act(SHIPS, "Ship orders with this status", partial(self.sort, ships=True)),
            Act(SKIPS, "Skip orders with this status", partial(self.sort, ships=False)),
            Act("Escape", "All packages", self.ended.emit),
        )

    def pack(self) -> None:
        """Send the orders of the selected line together."""
        thing = self._chosen()
        if thing is not None and is_door(thing):
            self._desk.do(pack_together, thing.keys)

    def sort(self, *, ships: bool) -> None:
        """Decide whether orders with the selected line's status are shipped."""
        thing = self._chosen()
        if thing is not None and is_status(thing):
            self._desk.do(sort_status, str(thing.found.facts["status"]), ships=ships)

    def _hear(self, desk_changes: DeskChanges) -> None:
        """Mark the list stale when orders or the shop changed; a weight changes nothing here."""
        changes = desk_changes.changes
        self._is_stale = self._is_stale or bool(changes.orders or changes.shop or changes.settings)

    def _look(self) -> None:
        pile, verdicts = self._desk.pile, self._desk.pile.verdicts
        self._found = look_ahead(verdicts.values(), pile.terms, pile, (one.case for one in pile.latest))
        self.things = to_settle(self._found.things)
        ids = {verdict.case.key: number for number, verdict in verdicts.items()}
        self._ids = [{ids[key] for key in thing.keys if key in ids} for thing in self.things]
        self._is_stale = False

    def _chosen(self) -> ThingToSortOut | None:
        row = self.table.currentIndex().row()
        return self.things[row] if 0 <= row < len(self.things) else None

    def _offer(self) -> None:
        """Show the selected line in full below the table, with the buttons that apply."""
        thing = self._chosen()
        self.words.setText("\n".join(thing_words(thing)) if thing else "")
        self._pack.setEnabled(thing is not None and is_door(thing))
        for button in (self._ship, self._skip):
            button.setVisible(thing is not None and is_status(thing))

    def _open(self, row: int) -> None:
        known = self._desk.pile.find(self.things[row].keys[0].reference)
        if known is not None:
            self.opened.emit(known)
