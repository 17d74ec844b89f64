"""The interface to a device: a port that reads, writes and closes, and a serial port by pyserial.

A pseudo-terminal, a replay and a virtual device fit the same interface. A port is opened, read and closed in one
thread.
"""

from __future__ import annotations

import errno
from collections.abc import Callable
from dataclasses import dataclass
from enum import StrEnum
from typing import Any, Protocol  # pyserial has no types

REOPEN_PAUSES_S = (0.5, 1.0, 2.0, 4.0, 8.0)


class Link(StrEnum):
    """The status of a connection."""

    CLOSED = "closed"
    OPENING = "opening"
    LIVE = "live"
    LOST = "lost"


class Trouble(StrEnum):
    """What is wrong with a connection, as far as the system reports it."""

    NONE = ""
    ABSENT = "absent"
    NO_RIGHTS = "no rights"
    BUSY = "busy"
    UNPLUGGED = "unplugged"
    NOTHING_ARRIVES = "nothing arrives"  # off, asleep, wrong port or cable
    GARBAGE_ARRIVES = "garbage arrives"  # wrong speed, parity or pattern
    PATTERN_OFF = "pattern switched off"  # the pattern timed out three times
    NOT_SUPPORTED = "not supported"  # no library for this kind of device


@dataclass(frozen=True, slots=True)
class LinkState:
    """The status of a connection, and its trouble."""

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
        """Return what has arrived, waiting at most `limit_s` seconds; empty when nothing did."""
        ...

    def write(self, data: bytes) -> None:
        """Send bytes."""
        ...

    def close(self) -> None:
        """Close it. Never raises."""
        ...


@dataclass(frozen=True, slots=True)
class SerialSettings:
    """The settings of a serial line: 9600 8N1 is usual, then 7E1 (from memory)."""

    name: str
    speed: int = 9600
    data_bits: int = 8
    parity: str = "N"
    stop_bits: int = 1


class SerialPort:
    """A serial port, opened exclusively."""

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
        _guarded(self._serial.reset_input_buffer)  # discard what arrived before

    def read(self, limit_s: float) -> bytes:
        """Return what has arrived: the first byte within the limit, then everything waiting."""
        return bytes(_guarded(lambda: self._read(limit_s)))

    def _read(self, limit_s: float) -> bytes:
        if self._serial.timeout != limit_s:
            self._serial.timeout = limit_s
        first: bytes = self._serial.read(1)
        waiting = self._serial.in_waiting if first else 0
        return first + self._serial.read(waiting) if waiting else first

    def write(self, data: bytes) -> None:
        """Send bytes; a line blocked for a second counts as lost."""
        _guarded(lambda: self._serial.write(data))

    def close(self) -> None:
        """Close the port; a lost port is already closed."""
        try:
            self._serial.close()
        except (OSError, TypeError):
            return


def open_serial(settings: SerialSettings) -> Port:
    """Open a serial port. Raises PortLostError with the kind of failure."""
    return SerialPort(settings)


def _guarded(act: Callable[[], Any]) -> Any:
    """Run a pyserial call; its own error is an OSError, and a port lost meanwhile may raise a TypeError."""
    try:
        return act()
    except (OSError, TypeError) as error:
        raise PortLostError(trouble_of(error)) from error


def trouble_of(error: Exception) -> Trouble:
    """Return the kind of trouble behind a system error."""
    return {
        errno.ENOENT: Trouble.ABSENT,
        errno.ENODEV: Trouble.ABSENT,
        errno.EACCES: Trouble.NO_RIGHTS,
        errno.EPERM: Trouble.NO_RIGHTS,
        errno.EAGAIN: Trouble.BUSY,
        errno.EBUSY: Trouble.BUSY,
    }.get(getattr(error, "errno", None) or 0, Trouble.UNPLUGGED)
