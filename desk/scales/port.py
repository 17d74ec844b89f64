"""The seam to a device: a port that reads, writes and closes, and a serial port by pyserial.

A pseudo-terminal, a replay and a virtual device fit the same seam. A port is opened, read and closed in one thread.
"""

from __future__ import annotations

import errno
from collections.abc import Callable
from dataclasses import dataclass
from enum import StrEnum
from typing import Any, Protocol

REOPEN_PAUSES_S = (0.5, 1.0, 2.0, 4.0, 8.0)


class Link(StrEnum):
    """Where a connection stands."""

    CLOSED = "closed"
    OPENING = "opening"
    LIVE = "live"
    LOST = "lost"


class Trouble(StrEnum):
    """What is wrong with a connection, as far as the system tells."""

    NONE = ""
    ABSENT = "absent"
    NO_RIGHTS = "no rights"
    BUSY = "busy"
    UNPLUGGED = "unplugged"
    NOTHING_ARRIVES = "nothing arrives"  # off, asleep, wrong port or cable
    RUBBISH_ARRIVES = "rubbish arrives"  # wrong speed, parity or pattern
    PATTERN_OFF = "pattern switched off"  # it ran out of time three times
    NOT_SUPPORTED = "not supported"  # no library for this kind of device


@dataclass(frozen=True, slots=True)
class LinkState:
    """Where a connection stands, and its trouble."""

    link: Link
    trouble: Trouble = Trouble.NONE


class PortLostError(Exception):
    """The port cannot be opened, or is gone."""

    def __init__(self, trouble: Trouble) -> None:
        super().__init__(trouble.value)
        self.trouble = trouble


class Port(Protocol):
    """An open device. Every call may raise PortLostError."""

    def read(self, limit_s: float) -> bytes:
        """What has come, waiting at most `limit_s` seconds; empty when nothing did."""
        ...

    def write(self, data: bytes) -> None:
        """Send bytes."""
        ...

    def close(self) -> None:
        """Close it; never raises."""
        ...


@dataclass(frozen=True, slots=True)
class SerialSettings:
    """How a serial line is set: 9600 8N1 is usual, 7E1 the next (from memory)."""

    name: str
    speed: int = 9600
    data_bits: int = 8
    parity: str = "N"
    stop_bits: int = 1


class SerialPort:
    """A serial port, held for this program alone."""

    def __init__(self, settings: SerialSettings) -> None:
        import serial

        self._serial: Any = _guarded(
            lambda: serial.Serial(
                settings.name,
                baudrate=settings.speed,
                bytesize=settings.data_bits,
                parity=settings.parity,
                stopbits=settings.stop_bits,
                timeout=0.1,
                write_timeout=1.0,
                exclusive=True,
            )
        )
        _guarded(self._serial.reset_input_buffer)  # what waited there is old

    def read(self, limit_s: float) -> bytes:
        """What has come: the first byte within the limit, then all that waits."""
        return bytes(_guarded(lambda: self._read(limit_s)))

    def _read(self, limit_s: float) -> bytes:
        if self._serial.timeout != limit_s:
            self._serial.timeout = limit_s
        first: bytes = self._serial.read(1)
        waiting = self._serial.in_waiting if first else 0
        return first + self._serial.read(waiting) if waiting else first

    def write(self, data: bytes) -> None:
        """Send bytes; a full line for a second counts as lost."""
        _guarded(lambda: self._serial.write(data))

    def close(self) -> None:
        """Close the port; a port that is gone is closed already."""
        try:
            self._serial.close()
        except (OSError, TypeError):
            return


def open_serial(settings: SerialSettings) -> Port:
    """Open a serial port; PortLostError with the class of failure."""
    return SerialPort(settings)


def _guarded(act: Callable[[], Any]) -> Any:
    """Run a call of pyserial; its own error is an OSError, and a port gone in between may show as a TypeError."""
    try:
        return act()
    except (OSError, TypeError) as error:
        raise PortLostError(trouble_of(error)) from error


def trouble_of(error: Exception) -> Trouble:
    """The class of a system error."""
    return {
        errno.ENOENT: Trouble.ABSENT,
        errno.ENODEV: Trouble.ABSENT,
        errno.EACCES: Trouble.NO_RIGHTS,
        errno.EPERM: Trouble.NO_RIGHTS,
        errno.EAGAIN: Trouble.BUSY,
        errno.EBUSY: Trouble.BUSY,
    }.get(getattr(error, "errno", None) or 0, Trouble.UNPLUGGED)
