"""Find USB scales by the Scales usage page, 0x8D, and tell whether they may be opened.

Source: HID Usage Tables 1.7. On Linux we use the hidraw backend, because the other one detaches the device from the
system and reports no usage page.
"""

from __future__ import annotations

import importlib
import os
import sys
from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass
from pathlib import Path
from typing import Any  # hidapi has no types

from desk.scales.drivers.descriptor import SCALES_PAGE, ReportLayout, common_layout, layout_of
from desk.scales.port import PortLostError, Trouble

RULE_FILE = "/etc/udev/rules.d/70-hid-scale.rules"
# Both spellings of the page item, one byte and two. The file's number must stay below 73 for `uaccess` to work.
RULE = r"""# Any hidraw node whose report descriptor opens with Usage Page 0x8D (Scales).
ACTION!="remove", SUBSYSTEM=="hidraw", ATTRS{report_descriptor}==e"\x05\x8d*", ENV{ID_HID_SCALE}="1", TAG+="uaccess"
ACTION!="remove", SUBSYSTEM=="hidraw", ATTRS{report_descriptor}==e"\x06\x8d*", ENV{ID_HID_SCALE}="1", TAG+="uaccess"
"""
RULE_COMMANDS = "udevadm control --reload-rules && udevadm trigger"
LONGEST_REPORT = 64


@dataclass(frozen=True, slots=True)
class FoundScale:
    """A USB scale: the system's path, its serial text (to recognize it), and whether it may be opened."""

    path: bytes
    serial: str
    may_open: bool


def hid_library(platform: str = sys.platform) -> Any:
    """Return the module for USB scales on this system. Raises PortLostError when the installation has none."""
    name = "hidraw" if platform.startswith("linux") else "hid"
    try:
        return importlib.import_module(name)
    except ImportError as error:
        raise PortLostError(Trouble.NOT_SUPPORTED) from error


def find_scales(
    enumerate_devices: Callable[[], Iterable[Mapping[str, Any]]] | None = None,
    may_open: Callable[[bytes], bool] | None = None,
) -> tuple[FoundScale, ...]:
    """Return the USB scales plugged in now. Call it in the reading thread; listing needs no permission."""
    devices = (enumerate_devices or hid_library().enumerate)()
    allowed = may_open or _may_open
    return tuple(
        FoundScale(device["path"], device.get("serial_number") or "", allowed(device["path"]))
        for device in devices
        if device.get("usage_page") == SCALES_PAGE
    )


def _may_open(path: bytes) -> bool:
    """Return whether a path can be opened: Linux needs read and write; elsewhere only opening it shows that."""
    return not sys.platform.startswith("linux") or os.access(path, os.R_OK | os.W_OK)


class HidPort:
    """A USB scale, opened by path; one read returns one report."""

    def __init__(self, path: bytes, library: Any = None) -> None:
        self._device: Any = (library or hid_library()).device()
        try:
            self._device.open_path(path)
        except OSError as error:
            raise PortLostError(_why_not(path)) from error
        self.layout = self._layout()
        self._drain()

    def read(self, limit_s: float) -> bytes:
        """Return the next report within the limit; there is always a limit, since a read without one never ends."""
        try:
            return bytes(self._device.read(LONGEST_REPORT, max(1, round(limit_s * 1000))))
        except (OSError, ValueError) as error:
            raise PortLostError(Trouble.UNPLUGGED) from error

    def write(self, data: bytes) -> None:
        """Send nothing: zeroing is left to the key on the scale."""

    def close(self) -> None:
        """Close the device."""
        self._device.close()

    def _layout(self) -> ReportLayout:
        """Return the layout from its own report descriptor, or the usual one without a descriptor."""
        try:
            descriptor = bytes(self._device.get_report_descriptor())
        except (AttributeError, OSError):
            return common_layout()
        return layout_of(descriptor) or common_layout()

    def _drain(self) -> None:
        """Discard unread reports, which are old."""
        try:
            self._device.set_nonblocking(1)
            while self._device.read(LONGEST_REPORT):
                pass
            self._device.set_nonblocking(0)
        except (OSError, ValueError) as error:
            raise PortLostError(Trouble.UNPLUGGED) from error


def _why_not(path: bytes) -> Trouble:
    """Return why opening failed: the library gives no reason, so the path is checked."""
    if not sys.platform.startswith("linux"):
        return Trouble.BUSY
    if not Path(os.fsdecode(path)).exists():
        return Trouble.ABSENT
    return Trouble.BUSY if _may_open(path) else Trouble.NO_RIGHTS


def serial_names() -> tuple[str, ...]:
    """Return the names of the serial ports present."""
    from serial.tools import list_ports

    return tuple(sorted(port.device for port in list_ports.comports()))
