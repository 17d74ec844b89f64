"""The process of the virtual scale: it sends on a pseudo-terminal as a real one does on a serial port."""

from __future__ import annotations

import subprocess
import sys
import tempfile
from pathlib import Path

from desk.scales.devices import serial_device
from desk.scales.drivers.presets import preset
from desk.scales.port import SerialSettings
from desk.scales.thread import Device
from desk.session.scale.choice import USUAL_TALK

END_S = 2.0


class VirtualScaleProcess:
    """The process of a virtual scale with that built-in format. `speed` makes its clock run faster."""

    def __init__(self, speed: float = 1.0, talk: str = USUAL_TALK) -> None:
        self._talk = talk
        self._folder = tempfile.TemporaryDirectory(prefix="tare-and-tag-scale-")
        self.link = Path(self._folder.name) / "scale"
        command = [
            sys.executable,
            "-m",
            "desk.scales.simulated.scale",
            "--pty-link",
            self.link,
            "--by-hand",
            "--step",
            "0.1",
        ]
        command += ["--preset", talk]
        self._process = subprocess.Popen(  # noqa: S603 - our own module, no shell
            [*map(str, command), "--speed", str(speed)], stdin=subprocess.PIPE, text=True, cwd=_code_folder()
        )

    def device(self) -> Device:
        """Return its device, like that of any serial scale."""
        return serial_device(SerialSettings(str(self.link)), preset(self._talk))

    def send(self, step: str) -> None:
        """Send the scale one step of a script."""
        if self._process.stdin is not None and self._process.poll() is None:
            self._process.stdin.write(step)
            self._process.stdin.flush()

    def close(self) -> None:
        """End the process."""
        if self._process.stdin is not None:
            self._process.stdin.close()
        self._process.terminate()
        self._process.wait(END_S)
        self._folder.cleanup()


def _code_folder() -> Path:
    return Path(__file__).resolve().parents[2]
