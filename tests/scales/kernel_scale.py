"""A USB scale recognized by the kernel itself: a report descriptor given to /dev/uhid, and reports sent through it.

Events of uhid: the kernel's documentation (Documentation/hid/uhid.rst, from memory). Needs root.
"""

from __future__ import annotations

import os
import struct
from pathlib import Path

from desk.scales.simulated.speech import USUAL_DESCRIPTOR

DESTROY, CREATE, INPUT = 1, 11, 12
BUS_USB = 3
MOST = 4096
NODE = Path("/dev/uhid")


class KernelScale:
    """A scale plugged in from the start; `send` sends a report, `pull` and `plug` are its cable."""

    def __init__(self, descriptor: bytes = USUAL_DESCRIPTOR, serial: str = "UHID") -> None:
        self._descriptor, self._serial = descriptor, serial
        self._node: int | None = None
        self.plug()

    def plug(self) -> None:
        self._node = os.open(NODE, os.O_RDWR | os.O_NONBLOCK)
        head = struct.pack(
            "<I128s64s64sHHIIII",
            CREATE,
            b"scale",
            b"",
            self._serial.encode(),
            len(self._descriptor),
            BUS_USB,
            0,
            0,
            0,
            0,
        )
        os.write(self._node, head + self._descriptor.ljust(MOST, b"\0"))

    def send(self, report: bytes) -> None:
        if self._node is not None:
            os.write(self._node, struct.pack("<IH", INPUT, len(report)) + report.ljust(MOST, b"\0"))

    def pull(self) -> None:
        if self._node is not None:
            os.write(self._node, struct.pack("<I", DESTROY))
            os.close(self._node)
            self._node = None
