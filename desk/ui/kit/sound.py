"""The one sound of the program, the system's own, which can be switched off."""

from __future__ import annotations

from PySide6.QtCore import QSettings
from PySide6.QtWidgets import QApplication

KEY = "look/sound"


def is_sound_on() -> bool:
    """Whether the person wants to hear anything; yes until they say no."""
    return str(QSettings().value(KEY, "on")) != "off"


def choose_sound(on: bool) -> None:
    """Keep the choice."""
    QSettings().setValue(KEY, "on" if on else "off")


def sound() -> None:
    """Make it, unless it is switched off."""
    if is_sound_on():
        QApplication.beep()
