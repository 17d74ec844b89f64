"""The program's only sound, the system's: once, twice (louder), or off."""

from __future__ import annotations

from PySide6.QtWidgets import QApplication

from desk.ui.kit.kept_choice import keep_choice, kept_choice

KEY = "look/sound"
LEVELS = ("loud", "on", "off")


def is_sound_on() -> bool:
    """Return whether sound is on; it is until turned off."""
    return loudness() != "off"


def loudness() -> str:
    """Return one of `LEVELS`."""
    return kept_choice(KEY, LEVELS, "on", "sound")


def choose_loudness(level: str) -> None:
    """Save the choice."""
    keep_choice(KEY, level)


def choose_sound(on: bool) -> None:
    """Turn sound on or off; a loud setting that is on stays loud."""
    if on != is_sound_on():
        choose_loudness("on" if on else "off")


def sound() -> None:
    """Play the sound, unless it is off."""
    if is_sound_on():
        QApplication.beep()
