"""The strips under the line of screens: lasting states, newest first, one line each.

They never push the work out of sight: the newest are shown, and a button shows the rest.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence

from PySide6.QtWidgets import QVBoxLayout, QWidget

from desk.ui.bridge import OngoingState
from desk.ui.kit import type as typeface
from desk.ui.kit.strip import Strip

MOST, FEWER, HIGH_ENOUGH = 2, 1, 700  # strips, strips in a low window, its height in pixels at 100%


class Strips(QWidget):
    """All strips of a window. A dismissed one returns when its text changes."""

    def __init__(self) -> None:
        super().__init__()
        self._states: tuple[OngoingState, ...] = ()
        self._dismissed: list[OngoingState] = []
        self._shows_all = False
        self._column = QVBoxLayout(self)
        self._column.setContentsMargins(32, 0, 32, 0)
        self._column.setSpacing(2)

    def show_states(self, states: Sequence[OngoingState]) -> None:
        """Show these states; they come oldest first."""
        self._dismissed = [state for state in self._dismissed if state in states]
        self._states = tuple(state for state in reversed(states) if state not in self._dismissed)
        self._shows_all = self._shows_all and len(self._states) > 1
        self.lay_out()

    def lay_out(self) -> None:
        """Make the strips that fit."""
        while (item := self._column.takeAt(0)) is not None:
            if (widget := item.widget()) is not None:
                widget.hide()
                widget.deleteLater()
        most = MOST if self.window().height() >= HIGH_ENOUGH * typeface.scale() else FEWER
        states = self._states if self._shows_all else self._states[:most]
        for state in states:
            ways = [*state.ways, *(self._way_to_rest(most) if state is states[-1] else ())]
            strip = Strip(state.words, state.mark, ways, is_small=state.is_small)
            strip.dismissed.connect(lambda state=state: self._dismiss(state))
            self._column.addWidget(strip)
        self.setVisible(bool(states))

    def _way_to_rest(self, most: int) -> tuple[tuple[str, Callable[[], None]], ...]:
        """Return the button that shows the other strips, where there are more than fit."""
        hidden = len(self._states) - most
        if hidden <= 0:
            return ()
        return (("Show fewer" if self._shows_all else f"{hidden} more", self._toggle),)

    def _toggle(self) -> None:
        self._shows_all = not self._shows_all
        self.lay_out()

    def _dismiss(self, state: OngoingState) -> None:
        if state.dismissed is not None:
            state.dismissed()
            return
        self._dismissed.append(state)
        self._states = tuple(one for one in self._states if one != state)
        self.lay_out()
