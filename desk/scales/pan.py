"""What the settling machine says: the state of the pan, and the events a bench acts on."""

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
    """How a settled weight came about."""

    FIRST = "first"  # the pan was seen empty before
    CORRECTED = "corrected"  # the same item: a hand let go, a piece added
    AGAIN = "again"  # the weight taken before, without an empty pan in between
    SWAPPED = "swapped"  # another weight, without an empty pan in between
    OFFERED = "offered"  # it never settled; the heavier of what was shown


@dataclass(frozen=True, slots=True)
class SettledWeight:
    """A settled weight as shown, the scale's step, and what is doubtful about it.

    `low` and `high` are the two values it flickered between; `offset` is what the empty pan showed; `same` says that
    the item before weighed the same; `asks` that the unit or an active tare needs a click first.
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
        """True when two values were shown in turn."""
        return self.low != self.high

    def shown(self) -> Shown | None:
        """The weight as a weighing keeps it; None for a unit no packing desk uses."""
        if self.unit not in DESK_UNITS:
            return None
        low, high = (self.low, self.high) if self.flickers else (None, None)
        return Shown(self.value, WeightUnit(self.unit), self.division, low, high, self.offset)


@dataclass(frozen=True, slots=True)
class UnsettledOffer:
    """It does not settle: the heavier of what it shows may be taken by a click."""

    settled: SettledWeight
    at: float


@dataclass(frozen=True, slots=True)
class PanWasEmpty:
    """The pan was seen empty: the next settled weight is another item."""

    at: float


@dataclass(frozen=True, slots=True)
class UnitChanged:
    """The unit key was pressed: everything starts again with an empty pan."""

    unit: str
    at: float


Event = SettledWeight | UnsettledOffer | PanWasEmpty | UnitChanged
