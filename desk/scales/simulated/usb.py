"""A virtual USB scale: a script of placements becomes report bytes, in place of the system's library.

`UsbScript` has that library's interface: it lists devices and opens them, so that finding, opening, the report
descriptor, draining, decoding and reconnecting work as with a real scale. It needs no pseudo-terminal, and runs on
every system.
"""

from __future__ import annotations

import threading
import time
from collections import deque
from decimal import Decimal
from queue import SimpleQueue
from typing import Any  # as hidapi lists devices

from desk.scales.devices import usb_device
from desk.scales.drivers.descriptor import SCALES_PAGE, layout_of
from desk.scales.find import FoundScale, HidPort, find_scales
from desk.scales.simulated.scale import STEPS, Player, VirtualScale
from desk.scales.simulated.speech import USUAL_DESCRIPTOR, say_report
from desk.scales.thread import Device

PATH, SERIAL = b"virtual scale on usb", "VIRTUAL"
STEP_OZ = Decimal("0.1")
END_S = 2.0
MOST_WAITING = 63  # reports a system buffers for an unread device; newer ones are lost
_Report = list[int]


class UsbScript:
    """A bus with one scale on it. `send` makes it report, `pull` and `plug` work its cable."""

    def __init__(self, descriptor: bytes = USUAL_DESCRIPTOR) -> None:
        layout = layout_of(descriptor)
        if layout is None:
            raise ValueError("this report descriptor has no weight")
        self.descriptor, self.layout = descriptor, layout
        self.is_plugged, self.plugs = True, 1
        self._news = threading.Condition()
        self._waiting: deque[_Report] = deque()

    def enumerate(self) -> list[dict[str, Any]]:
        """Return the devices present, in the library's form."""
        one = {"path": PATH, "usage_page": SCALES_PAGE, "usage": 0x20, "serial_number": SERIAL}
        return [one] if self.is_plugged else []

    def device(self) -> _Opened:
        """Return a handle that can open the scale."""
        return _Opened(self)

    def send(self, report: bytes) -> None:
        """Send a report; unread ones are eventually lost."""
        with self._news:
            if self.is_plugged and len(self._waiting) < MOST_WAITING:
                self._waiting.append(list(report))
                self._news.notify_all()

    def pull(self) -> None:
        """Unplug the cable."""
        with self._news:
            self.is_plugged = False
            self._waiting.clear()
            self._news.notify_all()

    def plug(self) -> None:
        """Plug it in again; handles opened before stay dead."""
        self.is_plugged, self.plugs = True, self.plugs + 1

    def next_report(self, limit_s: float, plugged: int) -> _Report:
        """Return the oldest unread report, empty when none came in time. Raises OSError when its cable was pulled."""
        with self._news:
            self._news.wait_for(lambda: self._waiting or not self.is_plugged, limit_s)
            if not self.is_plugged or plugged != self.plugs:
                raise OSError("read error")
            return self._waiting.popleft() if self._waiting else []


class _Opened:
    """A handle as the library returns it. Unplugging makes it useless for good, like a real one."""

    def __init__(self, script: UsbScript) -> None:
        self._script, self._waits, self._plugged = script, True, 0

    def open_path(self, path: bytes) -> None:
        """Open the scale with that path. Raises OSError when it is not plugged in."""
        if not self._script.is_plugged or path != PATH:
            raise OSError("open failed")
        self._plugged = self._script.plugs

    def get_report_descriptor(self) -> list[int]:
        """Return the report descriptor."""
        return list(self._script.descriptor)

    def set_nonblocking(self, on: int) -> None:
        """Make reads return at once, or with 0 wait for their time limit."""
        self._waits = not on

    def read(self, _longest: int, timeout_ms: int = 0) -> _Report:
        """Return the next report, or none within the limit. Raises OSError when it was unplugged after opening."""
        return self._script.next_report(timeout_ms / 1000 if self._waits else 0.0, self._plugged)

    def close(self) -> None:
        """Do nothing: there is nothing to release."""


def scripted_device(script: UsbScript) -> Device:
    """Return that scale as a device, reached like any USB scale."""

    def find() -> tuple[FoundScale, ...]:
        return find_scales(script.enumerate, lambda _path: True)

    return usb_device("", find, lambda path: HidPort(path, script))


class VirtualUsb:
    """The virtual USB scale, playing in its own thread. `speed` makes its clock run faster."""

    def __init__(self, speed: float = 1.0, script: UsbScript | None = None) -> None:
        self.script = script or UsbScript()
        self._steps: SimpleQueue[str | None] = SimpleQueue()
        self._speed = speed
        self._player = Player(self._scale(), self.script.send, self._now, self._sleep, cable=self.script)
        self._thread = threading.Thread(target=self._play, name="virtual usb", daemon=True)
        self._thread.start()

    def device(self) -> Device:
        """Return it as a device, reached like any USB scale."""
        return scripted_device(self.script)

    def send(self, steps: str) -> None:
        """Queue steps of a script, one per line."""
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
