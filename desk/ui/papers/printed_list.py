"""What was printed, and when: the latest first, to show it again or to cancel it."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import datetime

from PySide6.QtCore import Qt, Signal, SignalInstance
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import QPushButton, QVBoxLayout, QWidget

from desk.session.papers.kinds import TITLES
from desk.session.papers.printed import Printing
from desk.session.words.figures import pieces_in_words, short_day, time_in_words
from desk.ui.kit.empty import EmptyView
from desk.ui.kit.rows import TextRows
from desk.ui.kit.table import PlainTable
from desk.ui.kit.wrapping import FlowLayout

HEADS = ("Printed", "Paper", "Packages", "Which", "Canceled")
WIDTHS = (170, 170, 90, 150, 170)
_MOST_NUMBERS = 12


class PrintedList(QWidget):
    """A row for each printing. Enter shows its paper again, Delete cancels it."""

    again = Signal(Printing)
    canceled = Signal(Printing)
    closed = Signal()

    def __init__(self) -> None:
        super().__init__()
        self._printings: tuple[Printing, ...] = ()
        self.model = TextRows(HEADS)
        self.table = PlainTable("What was printed")
        self.table.setModel(self.model)
        self.table.set_widths(WIDTHS, dropped_first=(2, 3, 4), grows=(3,))
        self.nothing = EmptyView("Nothing was printed yet", "Everything you print here is listed, the latest first.")
        self.show_again = QPushButton("&Show this paper again")
        self.cancel = QPushButton("C&ancel this printing")
        self.back = QPushButton("&Back to the preview")
        self._build()
        self.table.entered_row.connect(lambda _row: self._emit(self.again))
        self.table.selectionModel().selectionChanged.connect(lambda *_rows: self._allow())

    def _build(self) -> None:
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 8)
        buttons = QWidget()
        line = FlowLayout(buttons)
        acts = (
            (self.show_again, lambda: self._emit(self.again)),
            (self.cancel, lambda: self._emit(self.canceled)),
            (self.back, self.closed.emit),
        )
        for button, act in acts:
            button.setAccessibleName(button.text().replace("&", ""))
            button.clicked.connect(lambda _checked=False, act=act: act())
            line.addWidget(button)
        column.addWidget(buttons)
        column.addWidget(self.table, 1)
        column.addWidget(self.nothing, 1)

    def show_printings(self, printings: Sequence[Printing], numbers: dict[str, str]) -> None:
        """List these. `numbers` are those people know the pieces by, under their references."""
        self._printings = tuple(printings)
        row = self.table.currentIndex().row()
        self.model.show_rows([_cells(one, numbers) for one in self._printings])
        self.table.setVisible(bool(printings))
        self.nothing.setVisible(not printings)
        if printings:
            self.table.selectRow(min(max(row, 0), len(printings) - 1))
        self._allow()

    def arrive(self) -> None:
        """Put the focus on the list."""
        (self.table if self._printings else self.back).setFocus()

    @property
    def chosen(self) -> Printing | None:
        """The selected printing."""
        row = self.table.currentIndex().row()
        return self._printings[row] if 0 <= row < len(self._printings) else None

    def keyPressEvent(self, event: QKeyEvent) -> None:
        if event.key() == Qt.Key.Key_Delete and self.cancel.isEnabled():
            self._emit(self.canceled)
        else:
            super().keyPressEvent(event)

    def _emit(self, signal: SignalInstance) -> None:
        if self.chosen is not None:
            signal.emit(self.chosen)

    def _allow(self) -> None:
        self.show_again.setEnabled(self.chosen is not None)
        self.cancel.setEnabled(self.chosen is not None and self.chosen.canceled_at is None)


def _cells(one: Printing, numbers: dict[str, str]) -> tuple[str, ...]:
    which = [numbers.get(reference, reference) for reference in one.references[:_MOST_NUMBERS]]
    more = len(one.references) - len(which)
    paper = f"{TITLES[one.paper]}, canceled" if one.canceled_at else TITLES[one.paper]
    canceled = _when(one.canceled_at) if one.canceled_at else ""
    listed = ", ".join(which) + (f" and {more} more" if more else "")
    return _when(one.at), paper, pieces_in_words(len(one.references)), listed, canceled


def _when(moment: datetime) -> str:
    return f"{short_day(moment.astimezone().date())} {time_in_words(moment)}"
