"""Reading: one thing a scale sent, unchanged. It decides nothing; `settling` decides what is a weight."""

from __future__ import annotations

from dataclasses import dataclass, replace
from decimal import Decimal
from enum import StrEnum

from desk.scales.units import DESK_UNITS, grams_of


class State(StrEnum):
    """What the scale reports about itself. The first ten come over USB, the others in lines of text."""

    STABLE = "stable"
    ZERO = "zero"
    MOVING = "moving"
    UNDER_ZERO = "under_zero"
    OVER_LIMIT = "over_limit"
    FAULT = "fault"
    NEEDS_CALIBRATION = "needs_calibration"
    NEEDS_ZERO = "needs_zero"
    UNKNOWN = "unknown"
    NOT_TOLD = "not_told"
    OVER = "over"
    UNDER = "under"
    ERROR = "error"
    ZERO_ERROR = "zero_error"
    REFUSED = "refused"


class Capture(StrEnum):
    """Whether a reading may become a weight, judged by this reading alone."""

    YES = "yes"
    NO = "no"
    ASK_FIRST = "ask first"
    BY_EQUAL_READINGS = "by equal readings only"


@dataclass(frozen=True, slots=True)
class Reading:
    """What was shown (a number and its unit), exact grams, the scale's own state, the bytes, and the time.

    `at` is in monotonic seconds, 0 when not timed. `net` means that a tare is active: postage needs the gross weight.
    """

    value: Decimal | None
    unit: str | None
    state: State
    grams: Decimal | None = None
    may_capture: Capture = Capture.NO
    raw: bytes = b""
    at: float = 0.0
    net: bool = False

    def timed(self, at: float) -> Reading:
        """Return the same reading with its time."""
        return replace(self, at=at)


def shown_reading(value: Decimal, unit: str | None, state: State, raw: bytes, net: bool = False) -> Reading:
    """Return a reading with a number; unit and state decide its grams and whether it may be captured."""
    number = abs(value) if value == 0 else value
    grams = grams_of(number, unit)
    return Reading(number, unit, state, grams, _may_capture(grams, unit, state, net), raw, net=net)


def _may_capture(grams: Decimal | None, unit: str | None, state: State, net: bool) -> Capture:
    if grams is None or grams <= 0 or state not in (State.STABLE, State.NOT_TOLD):
        return Capture.NO
    if net or unit not in DESK_UNITS:
        return Capture.ASK_FIRST
    return Capture.YES if state is State.STABLE else Capture.BY_EQUAL_READINGS
