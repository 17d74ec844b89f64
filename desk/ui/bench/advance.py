"""Whether the bench advances automatically: kept on this machine, over a restart."""

from __future__ import annotations

from PySide6.QtCore import QSettings

KEY = "bench/advance"


def advances() -> bool:
    """Return whether the next piece opens on its own after a weight."""
    return str(QSettings().value(KEY, "no")) == "yes"


def keep_advance(on: bool) -> None:
    """Keep the choice."""
    QSettings().setValue(KEY, "yes" if on else "no")
