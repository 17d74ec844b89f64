"""The store page: a copy of everything, the way back, and addresses that nobody needs any more."""

from __future__ import annotations

from PySide6.QtWidgets import QVBoxLayout

from desk.ui.bridge import Desk
from desk.ui.kit.form import Scrolled
from desk.ui.setup.data.addresses import AddressesCard
from desk.ui.setup.data.copies import CopyCard
from desk.ui.setup.page import Page

TITLE = "Store"


class StorePage(Page):
    """What is done to the store as a whole."""

    def __init__(self, desk: Desk) -> None:
        super().__init__(desk, TITLE)
        self.copy, self.addresses = CopyCard(desk), AddressesCard(desk)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.addWidget(Scrolled(TITLE, self.copy, self.addresses))

    def refresh(self) -> None:
        """Count the addresses again."""
        self.addresses.refresh()

    def arrive(self) -> None:
        """Put the focus on the first thing to do."""
        self.copy.make.setFocus()
