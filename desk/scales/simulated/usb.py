"""A virtual scale on USB: a script of placements turned into report bytes, at the seam where the system's library stands.

`UsbScript` is shaped like that library: it lists devices and opens them, so that finding, opening, the report descriptor,
draining, decoding and reconnecting are those of a real scale. It needs no pseudo-terminal, and works on every system.
"""

from __future__ import annotations

import threading
import time
from collections import deque
from decimal import Decimal
from queue import SimpleQueue
from typing import Any

from desk.scales.devices import usb_device
from desk.scales.drivers.descriptor import SCALES_PAGE, layout_of
from desk.scales.find import FoundScale, HidPort, find_scales
from desk.scales.simulated.scale import STEPS, Player, VirtualScale
from desk.scales.simulated.speech import USUAL_DESCRIPTOR, say_report
from desk.scales.thread import Device

PATH, SERIAL = b"virtual scale on usb", "VIRTUAL"
STEP_OZ = Decimal("0.1")
END_S = 2.0
MOST_WAITING = 63  # reports a system keeps for a device nobody reads; the newest are lost
_Report = list[int]


class UsbScript:
    """A bus with one scale on it. `send` makes it report, `pull` and `plug` are its cable."""

    def __init__(self, descriptor: bytes = USUAL_DESCRIPTOR) -> None:
        layout = layout_of(descriptor)
        if layout is None:
            raise ValueError("this report descriptor has no weight")
        self.descriptor, self.layout = descriptor, layout
        self.is_plugged, self.plugs = True, 1
        self._news = threading.Condition()
        self._waiting: deque[_Report] = deque()

    def enumerate(self) -> list[dict[str, Any]]:
        """The devices there are, as the library tells of them."""
        one = {"path": PATH, "usage_page": SCALES_PAGE, "usage": 0x20, "serial_number": SERIAL}
        return [one] if self.is_plugged else []

    def device(self) -> _Opened:
        """A handle that can open the scale."""
        return _Opened(self)

    def send(self, report: bytes) -> None:
        """The scale sends a report; what nobody reads is lost at last."""
        with self._news:
            if self.is_plugged and len(self._waiting) < MOST_WAITING:
                self._waiting.append(list(report))
                self._news.notify_all()

    def pull(self) -> None:
        """Pull the cable."""
        with self._news:
            self.is_plugged = False
            self._waiting.clear()
            self._news.notify_all()

    def plug(self) -> None:
        """Plug it in again; what was opened before stays useless."""
        self.is_plugged, self.plugs = True, self.plugs + 1

    def next_report(self, limit_s: float, plugged: int) -> _Report:
        """The oldest unread report, empty when none came in time; OSError when the cable it came by was pulled."""
        with self._news:
            self._news.wait_for(lambda: self._waiting or not self.is_plugged, limit_s)
            if not self.is_plugged or plugged != self.plugs:
                raise OSError("read error")
            return self._waiting.popleft() if self._waiting else []


class _Opened:
    """A handle as the library gives it. A pull makes it useless for good, as it does a real one."""

    def __init__(self, script: UsbScript) -> None:
        self._script, self._waits, self._plugged = script, True, 0

    def open_path(self, path: bytes) -> None:
        """Hold the scale of that path; OSError when it is not plugged in."""
        if not self._script.is_plugged or path != PATH:
            raise OSError("open failed")
        self._plugged = self._script.plugs

    def get_report_descriptor(self) -> list[int]:
        """The bytes that say how its reports are to be read."""
        return list(self._script.descriptor)

    def set_nonblocking(self, on: int) -> None:
        """From now on a read waits for nothing, or with 0 for its time limit."""
        self._waits = not on

    def read(self, _longest: int, timeout_ms: int = 0) -> _Report:
        """The next report, or none in that many milliseconds; OSError when it was pulled since it was opened."""
        return self._script.next_report(timeout_ms / 1000 if self._waits else 0.0, self._plugged)

    def close(self) -> None:
        """Nothing is held."""


def scripted_device(script: UsbScript) -> Device:
    """How that scale is reached: by the way of any USB scale."""

    def find() -> tuple[FoundScale, ...]:
        return find_scales(script.enumerate, lambda _path: True)

    return usb_device("", find, lambda path: HidPort(path, script))


class VirtualUsb:
    """The virtual scale on USB, playing in a thread of its own. `speed` lets its clock run faster."""

    def __init__(self, speed: float = 1.0, script: UsbScript | None = None) -> None:
        self.script = script or UsbScript()
        self._steps: SimpleQueue[str | None] = SimpleQueue()
        self._speed = speed
        self._player = Player(self._scale(), self.script.send, self._now, self._sleep, cable=self.script)
        self._thread = threading.Thread(target=self._play, name="virtual usb", daemon=True)
        self._thread.start()

    def device(self) -> Device:
        """How it is reached: as any USB scale."""
        return scripted_device(self.script)

    def send(self, steps: str) -> None:
        """Let the scale do steps of a script, one a line."""
        for step in steps.splitlines():
            self._steps.put(step)

    def close(self) -> None:
        """End its thread."""
        self._steps.put(None)
        self._thread.join(END_S)

    def _scale(self) -> VirtualScale:
        return VirtualScale(steps=STEPS | {"oz": STEP_OZ}, voice=lambda word: say_report(word, self.script.layout))

    def _play(self) -> None:
        self._player.obey(iter(self._steps.get, None))
        self.script.pull()

    def _now(self) -> float:
        return time.monotonic() * self._speed

    def _sleep(self, seconds: float) -> None:
        time.sleep(seconds / self._speed)
