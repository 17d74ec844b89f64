"""Which day the hand-over list shows: what is ready now, or what was handed over on a day."""

from __future__ import annotations

from collections.abc import Sequence

from PySide6.QtCore import QMargins, QSignalBlocker, Signal
from PySide6.QtWidgets import QComboBox, QWidget

from desk.session.pile.days_that_left import DayThatLeft
from desk.session.words.figures import day_in_words, pieces_in_words
from desk.ui.kit.wrapping import FlowLayout, labeled


class DayBar(QWidget):
    """A list of days, newest first, after what is ready now. Hidden until something was handed over."""

    chosen = Signal()

    def __init__(self) -> None:
        super().__init__()
        self._days: tuple[DayThatLeft, ...] = ()
        self.box = QComboBox()
        self.box.currentIndexChanged.connect(lambda _place: self.chosen.emit())
        FlowLayout(self, margins=QMargins(0, 0, 0, 4)).addWidget(labeled("&Day", self.box))

    @property
    def day(self) -> DayThatLeft | None:
        """The day shown; None for what is ready now."""
        place = self.box.currentIndex() - 1
        return self._days[place] if 0 <= place < len(self._days) else None

    @property
    def has_days(self) -> bool:
        """True when something was handed over."""
        return bool(self._days)

    def show_days(self, ready: int, days: Sequence[DayThatLeft]) -> None:
        """Offer these days; the one that was shown stays shown while there is one."""
        before = self.day.day if self.day else None
        self._days = tuple(days)
        words = [f"Handed over {day_in_words(one.day)} ({pieces_in_words(len(one.postage))})" for one in days]
        with QSignalBlocker(self.box):
            self.box.clear()
            self.box.addItems([f"Ready now ({pieces_in_words(ready)})", *words])
            chosen = next((place for place, one in enumerate(days, 1) if one.day == before), 0)
            self.box.setCurrentIndex(chosen)

    def step(self, by: int) -> None:
        """Show an earlier day (1) or a later one (-1); what is ready now comes after the latest."""
        self.box.setCurrentIndex(min(max(self.box.currentIndex() + by, 0), self.box.count() - 1))

    def toggle(self) -> None:
        """Show the latest day, or what is ready now again."""
        self.box.setCurrentIndex(1 if self.day is None and self._days else 0)
