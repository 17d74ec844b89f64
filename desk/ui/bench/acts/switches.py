"""Bench options: advance automatically, and sounds. Both survive a restart."""

from __future__ import annotations

from desk.ui.bench.advance import keep_advance
from desk.ui.bench.layout import BenchLayout


class SwitchActs:
    """Options of this computer; they belong to no shop and can't be undone."""

    def __init__(self, view: BenchLayout) -> None:
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
