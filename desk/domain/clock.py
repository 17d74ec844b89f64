"""Clocks, passed in so that tests and replays decide the time."""

from __future__ import annotations

import time
from datetime import UTC, date, datetime
from typing import Protocol


class Clock(Protocol):
    """A wall clock for records and a monotonic one for durations."""

    def now(self) -> datetime:
        """The wall time, in UTC."""
        ...

    def monotonic(self) -> float:
        """Seconds that never run backwards."""
        ...


class SystemClock:
    """The machine's own clocks."""

    def now(self) -> datetime:
        """The wall time, in UTC."""
        return datetime.now(UTC)

    def monotonic(self) -> float:
        """Seconds that never run backwards."""
        return time.monotonic()


def local_day(moment: datetime) -> date:
    """Return the day of a moment on the calendar of the place the program runs in."""
    return moment.astimezone().date()


def today(clock: Clock) -> date:
    """Return today's day by the local calendar."""
    return local_day(clock.now())
