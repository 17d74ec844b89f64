"""The base of every page of Setup."""

from __future__ import annotations

from PySide6.QtWidgets import QWidget

from desk.domain.shop.shop import Shop
from desk.ui.bridge import Desk


class Page(QWidget):
    """A page. `refresh` shows the current settings."""

    def __init__(self, desk: Desk, name: str) -> None:
        super().__init__()
        self.desk, self.name = desk, name
        self.setAccessibleName(name)

    @property
    def shop(self) -> Shop:
        """The current shop settings."""
        return self.desk.pile.terms.shop

    def refresh(self) -> None:
        """Read the shown data again."""
        raise NotImplementedError

    def arrive(self) -> None:
        """Put the focus on the first control."""
        raise NotImplementedError

    def show_part(self, part: str) -> None:
        """Go to a part of this page that another screen named; most pages have none."""
