"""How the bench works: whether it advances on its own, and its sounds. Both are kept over a restart."""

from __future__ import annotations

from desk.ui.bench.advance import keep_advance
from desk.ui.bench.layout import BenchFace


class SwitchActs:
    """Switches of this machine; they belong to no shop and are no steps to undo."""

    def __init__(self, view: BenchFace) -> None:
        self._view = view

    def switch_advance(self) -> None:
        """Advance automatically, or wait for a number."""
        view = self._view
        view.goes_on = not view.goes_on
        keep_advance(view.goes_on)
        view.side.goes_on.setChecked(view.goes_on)

    def switch_sounds(self) -> None:
        """Sounds on or off."""
        self._view.side.sounds.setChecked(self._view.sounds.switch())
