"""Whether the bench advances automatically: saved on this computer."""

from __future__ import annotations

from PySide6.QtCore import QSettings

KEY = "bench/advance"


def advances() -> bool:
    """Return whether the next piece opens automatically after a weight."""
    return str(QSettings().value(KEY, "no")) == "yes"


def keep_advance(on: bool) -> None:
    """Save the choice."""
    QSettings().setValue(KEY, "yes" if on else "no")
