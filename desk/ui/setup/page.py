"""What every page of Setup is."""

from __future__ import annotations

from PySide6.QtWidgets import QWidget

from desk.domain.shop.shop import Shop
from desk.ui.bridge import Desk


class Page(QWidget):
    """One page. `refresh` shows the shop as it is now."""

    def __init__(self, desk: Desk, name: str) -> None:
        super().__init__()
        self.desk, self.name = desk, name
        self.setAccessibleName(name)

    @property
    def shop(self) -> Shop:
        """The shop as it is now."""
        return self.desk.pile.terms.shop

    def refresh(self) -> None:
        """Read again what is shown."""
        raise NotImplementedError

    def arrive(self) -> None:
        """Put the focus into the first thing to do."""
        raise NotImplementedError
