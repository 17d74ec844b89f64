"""Encode a weight as a virtual scale sends it: one frame in each built-in format, or a USB report.

The inverse of `drivers.presets`; reports follow their report descriptor. Usage numbers: HID Usage Tables 1.7, Scales
page 0x8D. Items of a descriptor: HID 1.11, section 6.2.2 (from memory).
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from decimal import Decimal

from desk.domain.weight import OUNCES_IN_POUND
from desk.scales.drivers.descriptor import ReportField, ReportLayout
from desk.scales.drivers.hid_report import STATUSES
from desk.scales.reading import State
from desk.scales.units import HID_UNITS

# Page 0x8D, a scale device; report 3 is its data report: status and unit as selectors that count from 1, a signed byte
# for the power of ten, two bytes for the count.
USUAL_DESCRIPTOR = bytes.fromhex(
    "058D 0920 A101 8503 0932 A102"
    "0970 A102 1501 2508 7508 9501 1971 2978 8100 C0"
    "0950 A102 1501 250C 7508 9501 1951 295C 8100 C0"
    "0941 1581 257F 7508 9501 8102"
    "0940 1500 27FFFF0000 7510 9501 8102"
    "C0 C0"
)
MOVING_BIT, UNDER_BIT, OVER_BIT = 1, 1, 2  # of the status bytes


@dataclass(frozen=True, slots=True)
class DisplayedValue:
    """What the display shows: the number, its unit (`oz` or `g`), whether it is steady, and whether it is too much."""

    value: Decimal
    unit: str
    at_rest: bool = True
    over: bool = False


def _status_prefixed(word: DisplayedValue) -> str:
    if word.over:
        return f"OL,GS,+{'9' * 7},{word.unit:>2}\r\n"
    sign = "-" if word.value < 0 else "+"
    return f"{'ST' if word.at_rest else 'US'},GS,{sign}{abs(word.value):>7},{word.unit:>2}\r\n"


def _status(word: DisplayedValue) -> str:
    first = 0x30 | (0 if word.at_rest else MOVING_BIT)
    second = 0x30 | (OVER_BIT if word.over else UNDER_BIT if word.value < 0 else 0)
    return f"S{chr(first)}{chr(second)}\r\x03"


def _poll_etx(word: DisplayedValue) -> str:
    quiet = word.over or word.value < 0
    return f"\n{_status(word)}" if quiet else f"\n{word.value:07.2f}{word.unit.upper()}\r\n{_status(word)}"


def _pounds(word: DisplayedValue) -> str:
    if word.over or word.value < 0:
        return f"\n{_status(word)}"
    pounds, ounces = divmod(word.value, OUNCES_IN_POUND)
    return f"\n{pounds:3.0f}LB {ounces:4.1f}OZ\r\n{_status(word)}"


def _stable_letter(word: DisplayedValue) -> str:
    if word.over:
        return "S +\r\n"
    return f"S {'S' if word.at_rest else 'D'} {word.value:>10} {word.unit}\r\n"


def _value_unit_mark(word: DisplayedValue) -> str:
    if word.over:
        return f"  ^^^^^^^^ {word.unit}\r\n"
    return f"{word.value:>10} {word.unit:>2}    {' ' if word.at_rest else '?'}\r\n"


def _fixed_fields(word: DisplayedValue) -> str:
    if word.over:
        return f"\nO1G  {'-' * 10}{word.unit:<3}\r"
    return f"\n 1G{' ' if word.at_rest else 'M'} {word.value:>10}{word.unit:<3}\r"


def _framed_words(word: DisplayedValue) -> str:
    places = max(0, -int(word.value.as_tuple().exponent))
    first = 0x28 | (places + 2)
    negative, moving, over = word.value < 0, not word.at_rest, word.over
    second = 0x20 | negative << 1 | over << 2 | moving << 3
    third = 0x21 if word.unit == "g" else 0x23
    count = 999_999 if over else int(abs(word.value).scaleb(places))
    return f"\x02{chr(first)}{chr(second)}{chr(third)}{count:6d}000000\r"


SPEECH: Mapping[str, Callable[[DisplayedValue], str]] = {
    "status-prefixed": _status_prefixed,
    "poll-etx": _poll_etx,
    "poll-etx-lb-oz": _pounds,
    "stable-letter": _stable_letter,
    "value-unit-mark": _value_unit_mark,
    "fixed-fields": _fixed_fields,
    "framed-words": _framed_words,
}


def say(preset: str, word: DisplayedValue) -> bytes:
    """Return the bytes a scale sends in that format. Raises KeyError for an unknown one."""
    return SPEECH[preset](word).encode("ascii")


def say_report(word: DisplayedValue, layout: ReportLayout) -> bytes:
    """Return the report of a USB scale with that layout. The count is unsigned: the status marks a negative weight."""
    power = int(word.value.as_tuple().exponent)
    parts = (
        (layout.weight, int(abs(word.value).scaleb(-power))),
        (layout.scaling, power),
        (layout.status, _position(layout.status, STATUSES.index(_state_of(word)))),
        (layout.unit, _position(layout.unit, HID_UNITS.index(word.unit))),
    )
    body = length = 0
    for field, number in parts:
        if field is not None:
            body |= (number & (1 << field.bits) - 1) << field.start
            length = max(length, (field.start + field.bits + 7) // 8)
    head = b"" if layout.number is None else bytes([layout.number])
    return head + body.to_bytes(length, "little")


def _position(field: ReportField | None, place: int) -> int:
    return place + field.low if field else 0


def _state_of(word: DisplayedValue) -> State:
    if word.over:
        return State.OVER_LIMIT
    if word.value < 0:
        return State.UNDER_ZERO
    if not word.at_rest:
        return State.MOVING
    return State.STABLE if word.value else State.ZERO
