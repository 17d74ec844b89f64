"""The one sound of the program, the system's own: once, or louder, which is each pattern twice, or off."""

from __future__ import annotations

from PySide6.QtCore import QSettings
from PySide6.QtWidgets import QApplication

KEY = "look/sound"
LEVELS = ("loud", "on", "off")


def is_sound_on() -> bool:
    """Whether the person wants to hear anything; yes until they say no."""
    return loudness() != "off"


def loudness() -> str:
    """One of `LEVELS`."""
    kept = str(QSettings().value(KEY, "on"))
    return kept if kept in LEVELS else "on"


def choose_loudness(level: str) -> None:
    """Keep the choice."""
    QSettings().setValue(KEY, level)


def choose_sound(on: bool) -> None:
    """On or off; what was loud before and is on already stays loud."""
    if on != is_sound_on():
        choose_loudness("on" if on else "off")


def sound() -> None:
    """Make it, unless it is switched off."""
    if is_sound_on():
        QApplication.beep()
