"""The Costs screen: what this batch cost, over time, what was paid, what came after mailing, what to charge."""

from __future__ import annotations

from collections.abc import Sequence
from functools import partial

from PySide6.QtWidgets import QStackedWidget, QVBoxLayout

from desk.session.pile.earlier import LATEST, ids_weighed_last
from desk.ui.actions import Act
from desk.ui.bridge import Desk, DeskChanges
from desk.ui.common_keys import LOSSES, NEXT_PAGE, PAGE_BEFORE, SIZES
from desk.ui.costs.after_page import AfterPage
from desk.ui.costs.charge_page import ChargePage
from desk.ui.costs.fees_page import FeesPage
from desk.ui.costs.over_time import OverTimePage
from desk.ui.costs.paid_page import PaidPage
from desk.ui.costs.pictures.page import PicturesPage
from desk.ui.costs.pile_page import PilePage
from desk.ui.costs.stock_page import StockPage
from desk.ui.kit.words import LineOfWords
from desk.ui.screen import Screen

TITLE, SHORTCUT = "Costs", "Ctrl+6"
PILE, TIME, PAID, AFTER = "This batch", "Over time", "Paid", "After mailing"
CHARGE, STOCK, PICTURES, FEES = "What to charge", "Stock", "Pictures", "Extras"

CostsPage = PilePage | OverTimePage | PaidPage | AfterPage | ChargePage | StockPage | PicturesPage | FeesPage


class CostsView(Screen):
    """Its pages; only the open one is read again after a change."""

    def __init__(self, desk: Desk) -> None:
        super().__init__(desk)
        self.pile, self.time = PilePage(desk), OverTimePage(desk)
        self.paid, self.after, self.charge = PaidPage(desk), AfterPage(desk), ChargePage(desk)
        self.stock_of, self.pictures, self.fees = StockPage(desk), PicturesPage(desk), FeesPage(desk)
        self._pages: dict[str, CostsPage] = {
            PILE: self.pile,
            TIME: self.time,
            PAID: self.paid,
            AFTER: self.after,
            CHARGE: self.charge,
            STOCK: self.stock_of,
            PICTURES: self.pictures,
            FEES: self.fees,
        }
        self.words = LineOfWords(list(self._pages), indent=0)
        self.words.chosen.connect(self.open_page)
        self.stack = QStackedWidget()
        for page in self._pages.values():
            self.stack.addWidget(page)
        column = QVBoxLayout(self)
        column.setContentsMargins(32, 0, 32, 0)
        column.addWidget(self.words)
        column.addWidget(self.stack, 1)
        self.words.mark(PILE)

    def acts(self) -> Sequence[Act]:
        """Return the keys of Costs."""
        return (
            Act("Enter", "Open on the bench"),
            Act(NEXT_PAGE, "Next page", partial(self.turn, 1)),
            Act(PAGE_BEFORE, "Previous page", partial(self.turn, -1)),
            Act(LOSSES, "Show only losses, or all", self.pile.toggle_losing),
            Act("Ctrl+Shift+O", "Open the price list or zone chart of a difference", self.paid.differences.open_cause),
            Act(SIZES, "Mailer sizes that would save", self.pile.toggle_hints),
        )

    def refresh(self, changes: DeskChanges) -> None:  # noqa: ARG002 - the sums change with any piece
        """Refresh the open page."""
        next(page for page in self._pages.values() if page is self.stack.currentWidget()).refresh()

    def turn(self, by: int) -> None:
        """Open the next page, or with -1 the one before; after the last comes the first."""
        titles = list(self._pages)
        self.open_page(titles[(self.stack.currentIndex() + by) % len(titles)])

    def open_page(self, title: str) -> None:
        """Show one of the pages."""
        self.words.mark(title)
        page = self._pages[title]
        self.stack.setCurrentWidget(page)
        if page is self.after:
            self.desk.earlier.read_all()
        elif page is self.paid:
            self.paid.read_earlier()
        elif page in (self.pictures, self.charge):
            self.desk.earlier.read(ids_weighed_last(self.desk.sitting, LATEST))
        page.refresh()

    def arrive(self) -> None:
        """Put the focus in the table of the batch, if it has rows."""
        at_pile = self.stack.currentWidget() is self.pile
        (self.pile.table if at_pile and self.pile.model.rows else self).setFocus()


def build(desk: Desk) -> Screen:
    """Make the screen."""
    return CostsView(desk)
