"""Is there a screen to open a window on?"""

from __future__ import annotations

import os
import sys


def has_screen() -> bool:
    """True on Windows and macOS, and on Linux when a display is named (or Qt was told to do without one)."""
    if sys.platform in ("win32", "darwin"):
        return True
    return any(os.environ.get(name) for name in ("DISPLAY", "WAYLAND_DISPLAY", "QT_QPA_PLATFORM"))
