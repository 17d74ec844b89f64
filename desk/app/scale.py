"""The scale of a sitting: the demo's virtual one in a process of its own, read over a pseudo-terminal like any other."""

from __future__ import annotations

import subprocess
import sys
import tempfile
import time
from pathlib import Path

from desk.scales.devices import serial_device
from desk.scales.drivers.presets import preset
from desk.scales.port import SerialSettings
from desk.scales.thread import ReadingThread
from desk.session.virtual_pan import VirtualPan, demo_weights
from desk.ui.bridge import Desk
from desk.ui.scale_bridge import ScaleBridge

END_S = 2.0


class VirtualScale:
    """The process of the virtual scale and the thread that reads it. `speed` lets both of their clocks run faster."""

    def __init__(self, bridge: ScaleBridge, speed: float = 1.0) -> None:
        self._folder = tempfile.TemporaryDirectory(prefix="tare-and-tag-scale-")
        link = Path(self._folder.name) / "scale"
        command = [sys.executable, "-m", "desk.scales.virtual", "--pty-link", link, "--by-hand", "--step", "0.1"]
        self._process = subprocess.Popen(  # noqa: S603 - our own module, no shell
            [*map(str, command), "--speed", str(speed)], stdin=subprocess.PIPE, text=True, cwd=_code_folder()
        )
        device = serial_device(SerialSettings(str(link)), preset("status-prefixed"))
        bridge.clock = lambda: time.monotonic() * speed
        self._thread = ReadingThread(device, bridge.post, bridge.clock)
        self._thread.start()

    def send(self, step: str) -> None:
        """Let the scale do a step of a script."""
        if self._process.stdin is not None and self._process.poll() is None:
            self._process.stdin.write(step)
            self._process.stdin.flush()

    def close(self) -> None:
        """End the thread, then the process."""
        self._thread.stop()
        if self._process.stdin is not None:
            self._process.stdin.close()
        self._process.terminate()
        self._process.wait(END_S)
        self._folder.cleanup()


def attach_scale(desk: Desk, speed: float = 1.0) -> None:
    """Give a desk its scale: the demo the virtual one; a store of one's own has none until Setup names one."""
    desk.scale = bridge = ScaleBridge(desk)
    if not desk.is_demo or sys.platform == "win32":
        return  # there are no pseudo-terminals on Windows
    scale = VirtualScale(bridge, speed)
    bridge.pan = VirtualPan(demo_weights(desk.resources / "demo", desk.pile.terms.shop), scale.send)
    desk.closing.connect(scale.close)


def _code_folder() -> Path:
    return Path(__file__).resolve().parents[2]
