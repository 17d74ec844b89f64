"""Clocks, passed in so that tests and replays decide the time."""

from __future__ import annotations

import time
from datetime import UTC, date, datetime
from datetime import time as day_time
from typing import Protocol


class Clock(Protocol):
    """A wall clock for records and a monotonic one for durations."""

    def now(self) -> datetime:
        """Return the wall time in UTC."""
        ...

    def monotonic(self) -> float:
        """Return seconds that never run backwards."""
        ...


class SystemClock:
    """The computer's own clocks."""

    def now(self) -> datetime:
        """Return the wall time in UTC."""
        return datetime.now(UTC)

    def monotonic(self) -> float:
        """Return seconds that never run backwards."""
        return time.monotonic()


def local_day(moment: datetime) -> date:
    """Return a moment's day in the local calendar."""
    return moment.astimezone().date()


def start_of(day: date) -> datetime:
    """Return the moment a day starts in the local calendar."""
    return datetime.combine(day, day_time()).astimezone()


def today(clock: Clock) -> date:
    """Return today's date in the local calendar."""
    return local_day(clock.now())
