"""Views of the open piece: its page, its history, its full address."""

from __future__ import annotations

from desk.ui.bench.layout import BenchLayout


class LookingActs:
    """Opens and closes views of the open piece."""

    def __init__(self, view: BenchLayout) -> None:
        self._view = view

    def open_page(self) -> None:
        """Show all details of the open piece, or go back to the bench."""
        if self.is_page_open:
            self.leave_page()
        else:
            self._show_page()

    @property
    def is_page_open(self) -> bool:
        """True while the page lies over the bench."""
        return self._view.pages.currentWidget() is self._view.about

    def _show_page(self) -> None:
        if self.is_page_open:
            return
        if self._view.piece is not None and self._view.verdict is not None:
            self._view.pages.setCurrentWidget(self._view.about)
            self._view.about.show_piece(self._view.piece)

    def open_history(self) -> None:
        """Show the page of the piece, scrolled to its history."""
        self._show_page()
        self._view.about.show_history()

    def correct_order(self) -> None:
        """Show the page with the fields for correcting the order."""
        self._show_page()
        self._view.about.toggle_form()

    def leave_page(self) -> None:
        """Go back to the bench."""
        self._view.pages.setCurrentIndex(0)
        self._view.show_all()
        self._view.arrive()

    def toggle_address(self) -> None:
        """Show or hide the full address."""
        if self._view.verdict is not None:
            self._view.side.package.toggle_address()
