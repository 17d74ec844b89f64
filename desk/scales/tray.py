"""A tray that always stays on the scale: weighed once, and subtracted from every reading."""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal

from desk.scales.reading import Reading, shown_reading


@dataclass(frozen=True, slots=True)
class Tray:
    """What the empty tray showed, and the unit."""

    value: Decimal
    unit: str

    def words(self) -> str:
        """Return the tray's weight as text: `3.2 oz`."""
        return f"{self.value:f} {self.unit}"


def without_tray(reading: Reading, tray: Tray | None) -> Reading:
    """Return the reading without the tray; without a number when the units differ."""
    if tray is None or reading.value is None:
        return reading
    if reading.unit != tray.unit:
        return Reading(None, reading.unit, reading.state, raw=reading.raw, at=reading.at)
    return shown_reading(reading.value - tray.value, reading.unit, reading.state, reading.raw, reading.net).timed(
        reading.at
    )
