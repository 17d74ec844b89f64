"""The large part of Papers: the preview, what was printed, or that nothing was imported yet."""

from __future__ import annotations

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QVBoxLayout, QWidget

from desk.session.papers import printed
from desk.session.papers.printed import Printing
from desk.ui.bridge import Desk
from desk.ui.kit.empty import EmptyView
from desk.ui.papers.preview import PagesView
from desk.ui.papers.printed_list import PrintedList


class PapersMiddle(QWidget):
    """Shows one of the three. `again` asks for the paper of a printing, `changed` tells of a canceled one."""

    again = Signal(Printing)
    changed = Signal()

    def __init__(self, desk: Desk) -> None:
        super().__init__()
        self._desk = desk
        self.pages = PagesView()
        self.nothing = EmptyView("Nothing to print yet", "Import orders to see their labels and slips here.")
        self.printed = PrintedList()
        self.printed.hide()
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        for part in (self.pages, self.nothing, self.printed):
            column.addWidget(part, 1)
        self.printed.closed.connect(self.toggle)
        self.printed.again.connect(self._show_again)
        self.printed.canceled.connect(self._cancel)

    def refresh(self) -> None:
        """Show the current state."""
        is_list, there = not self.printed.isHidden(), not self._desk.pile.is_empty
        if is_list:
            self.printed.show_printings(printed.printings(self._desk.sitting), self._desk.pile.numbers())
        self.nothing.setVisible(not there and not is_list)
        self.pages.setVisible(there and not is_list)

    def toggle(self) -> None:
        """Show what was printed, or the preview again."""
        self.printed.setVisible(self.printed.isHidden())
        self.refresh()
        (self.pages.setFocus if self.printed.isHidden() else self.printed.arrive)()

    def _show_again(self, printing: Printing) -> None:
        self.toggle()
        self.again.emit(printing)

    def _cancel(self, printing: Printing) -> None:
        self._desk.do(printed.cancel_printing, printing)
        self.refresh()
        self.changed.emit()
