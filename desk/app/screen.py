"""Whether there is a screen to open a window on."""

from __future__ import annotations

import os
import sys


def has_screen() -> bool:
    """Return True on Windows and macOS, and on Linux with a display (or when Qt is set to work without one)."""
    if sys.platform in ("win32", "darwin"):
        return True
    return any(os.environ.get(name) for name in ("DISPLAY", "WAYLAND_DISPLAY", "QT_QPA_PLATFORM"))
