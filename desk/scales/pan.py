"""What the settling machine reports: the state of the pan, and events for the bench."""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal
from enum import StrEnum

from desk.domain.weight import Shown, WeightUnit
from desk.scales.units import DESK_UNITS


class Pan(StrEnum):
    """The state of the pan."""

    NO_SIGNAL = "no signal"
    EMPTY = "empty"
    OFF_ZERO = "off zero"
    LOAD_CHANGING = "load changing"
    LOAD_SETTLING = "load settling"
    CAPTURED = "captured"
    SWAPPED_UNSEEN = "swapped unseen"
    BELOW_ZERO = "below zero"
    OVER_LIMIT = "over limit"
    NEEDS_ZERO = "needs zero"
    SCALE_FAULT = "scale fault"


class CaptureKind(StrEnum):
    """How a weight came to settle."""

    FIRST = "first"  # the pan was empty before
    CORRECTED = "corrected"  # the same item: a hand let go, or something was added
    AGAIN = "again"  # the last captured weight again, without an empty pan in between
    SWAPPED = "swapped"  # another weight, without an empty pan in between
    OFFERED = "offered"  # it never settled; the heavier of the values shown


@dataclass(frozen=True, slots=True)
class SettledWeight:
    """A settled weight as shown, the scale's resolution, and its uncertainties.

    `low` and `high` are the two values it flickered between; `offset` is what the empty pan showed; `same` means that
    the previous item weighed the same; `asks` means that the unit or an active tare needs confirmation.
    """

    value: Decimal
    unit: str
    division: Decimal
    how: CaptureKind
    at: float
    low: Decimal | None = None
    high: Decimal | None = None
    same: bool = False
    asks: bool = False
    offset: Decimal = Decimal(0)

    @property
    def flickers(self) -> bool:
        """Return True when two values alternated."""
        return self.low != self.high

    def shown(self) -> Shown | None:
        """Return the weight as a weighing stores it; None for a unit we do not use."""
        if self.unit not in DESK_UNITS:
            return None
        low, high = (self.low, self.high) if self.flickers else (None, None)
        return Shown(self.value, WeightUnit(self.unit), self.division, low, high, self.offset)


@dataclass(frozen=True, slots=True)
class UnsettledOffer:
    """The weight does not settle: the heavier of the values shown may be confirmed."""

    settled: SettledWeight
    at: float


@dataclass(frozen=True, slots=True)
class PanWasEmpty:
    """The pan was seen empty, so the next settled weight is another item."""

    at: float


@dataclass(frozen=True, slots=True)
class UnitChanged:
    """The unit key was pressed, so everything restarts with an empty pan."""

    unit: str
    at: float


Event = SettledWeight | UnsettledOffer | PanWasEmpty | UnitChanged
