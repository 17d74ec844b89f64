"""The data page: backups, restoring, and deleting addresses that are no longer needed."""

from __future__ import annotations

from PySide6.QtWidgets import QVBoxLayout

from desk.ui.bridge import Desk
from desk.ui.kit.form import Scrolled
from desk.ui.setup.data.addresses import AddressesCard
from desk.ui.setup.data.copies import CopyCard
from desk.ui.setup.data.one_buyer import OneBuyerCard
from desk.ui.setup.page import Page

TITLE = "Data"


class BackupPage(Page):
    """Backups, old addresses, and one buyer's data."""

    def __init__(self, desk: Desk) -> None:
        super().__init__(desk, TITLE)
        self.copy, self.addresses, self.buyer = CopyCard(desk), AddressesCard(desk), OneBuyerCard(desk)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.addWidget(Scrolled(TITLE, self.copy, self.addresses, self.buyer))

    def refresh(self) -> None:
        """Count the addresses again."""
        self.addresses.refresh()
        self.buyer.refresh()

    def arrive(self) -> None:
        """Put the focus on the first control."""
        self.copy.refresh()
        self.copy.make.setFocus()
