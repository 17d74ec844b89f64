"""The Batch screen."""

from __future__ import annotations

from desk.ui.bridge import Desk, Told
from desk.ui.screen import Screen

TITLE, SHORTCUT = "Batch", "Ctrl+1"


class BatchView(Screen):
    """The table of pieces."""

    def refresh(self, told: Told) -> None:
        self.told = told


def build(desk: Desk) -> Screen:
    """Make the screen."""
    return BatchView(desk)
