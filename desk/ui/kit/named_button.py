"""A button named by its words, also for a screen reader."""

from __future__ import annotations

from collections.abc import Callable

from PySide6.QtWidgets import QPushButton


def named_button(words: str, slot: Callable[[], object]) -> QPushButton:
    """Return a button that calls `slot`; `&` marks its key."""
    button = QPushButton(words)
    button.setAccessibleName(words.replace("&", ""))
    button.clicked.connect(lambda _checked=False: slot())
    return button
