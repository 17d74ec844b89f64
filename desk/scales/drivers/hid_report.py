"""Decode a reading from a USB scale's data report.

Sources: HID Usage Tables 1.7, Scales page 0x8D (statuses 0x71..0x78, units 0x51..0x5C), and HID Point of Sale Usage
Tables 1.02, section 4. Which statuses allow capture is common practice, no source.
"""

from __future__ import annotations

from decimal import Decimal

from desk.scales.drivers.descriptor import ReportField, ReportLayout, common_layout
from desk.scales.reading import Reading, State, shown_reading
from desk.scales.units import HID_UNITS

STATUSES = (
    State.FAULT,
    State.ZERO,
    State.MOVING,
    State.STABLE,
    State.UNDER_ZERO,
    State.OVER_LIMIT,
    State.NEEDS_CALIBRATION,
    State.NEEDS_ZERO,
)
WITH_NUMBER = frozenset({State.ZERO, State.MOVING, State.STABLE, State.UNDER_ZERO, State.NOT_TOLD})
LARGEST_POWER = 6  # of ten: anything further from zero is impossible on a bench


def read_report(report: bytes, report_id: int | None = 3) -> Reading | None:
    """Return the reading of a report in the usual layout; None for another report number or too few bytes.

    `report_id` is None when the device sends no report numbers.
    """
    return decode(report, common_layout(report_id))


def decode(report: bytes, layout: ReportLayout) -> Reading | None:
    """Return a report's reading by that layout; None for another report number or too few bytes. Never raises."""
    if layout.number is not None and report[:1] != bytes([layout.number & 0xFF]):
        return None
    body = report if layout.number is None else report[1:]
    count = layout.weight.read(body)
    if count is None or _short(body, layout):
        return None
    state = _state(body, layout.status)
    power = _power(body, layout.scaling)
    unit = _pick(HID_UNITS, body, layout.unit)
    if state not in WITH_NUMBER or unit is None or abs(power) > LARGEST_POWER:
        return Reading(None, None, state, raw=report)
    value = Decimal(count).scaleb(power) if power < 0 else Decimal(count * 10**power)
    return shown_reading(-value if state is State.UNDER_ZERO else value, unit, state, report)


def _short(body: bytes, layout: ReportLayout) -> bool:
    return any(part is not None and part.read(body) is None for part in (layout.status, layout.scaling, layout.unit))


def _state(body: bytes, part: ReportField | None) -> State:
    if part is None:
        return State.NOT_TOLD
    word = _pick(STATUSES, body, part)
    return State.UNKNOWN if word is None else State(word)


def _power(body: bytes, part: ReportField | None) -> int:
    number = part.read(body) or 0 if part else 0
    return number - (1 << part.bits) if part and number >> part.bits - 1 else number


def _pick(words: tuple[str, ...], body: bytes, part: ReportField | None) -> str | None:
    """Return the word an array field selects, counted from the field's own minimum; None outside the list."""
    place = (part.read(body) or 0) - part.low if part else -1
    return words[place] if 0 <= place < len(words) else None
