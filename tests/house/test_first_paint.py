"""Modules loaded when a start with a window paints for the first time."""

from __future__ import annotations

import os
import subprocess
import sys

from tests.house.test_imports import HEAVY

START = """
import sys
from desk.app import wiring
from desk.ui.window import Window

paint = Window.paintEvent
def painted(window, event):
    paint(window, event)
    print(*sorted({".".join(name.split(".")[:2]) for name in sys.modules if name.startswith("desk.")}))
    print(*sorted({name.partition(".")[0] for name in sys.modules}))
    sys.stdout.flush()
    import os
    os._exit(0)
Window.paintEvent = painted
wiring.open_window(["--demo"])
"""


def test_only_qt_and_light_modules_are_loaded_before_the_first_paint(root, tmp_path):
    env = {**os.environ, "QT_QPA_PLATFORM": "offscreen", "XDG_CONFIG_HOME": str(tmp_path)}
    done = subprocess.run(
        [sys.executable, "-c", START], cwd=root, check=True, capture_output=True, text=True, timeout=50, env=env
    )
    ours, all_of_them = (set(line.split()) for line in done.stdout.splitlines()[:2])

    assert "PySide6" in all_of_them
    assert all_of_them & HEAVY == set()
    assert ours == {"desk.app", "desk.domain", "desk.ui"}  # of domain only the location of the resources
