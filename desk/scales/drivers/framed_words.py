"""Framed words: STX, three status letters, six digits of weight, six of tare, CR, and optionally a checksum byte.

The bits of the letters are common practice, no source: two descriptions of the family agree. From memory: codes 0, 1, 6
and 7 of the point, and 3 for the ounce. The letters always have bit 5 set; the first and third never bit 6.
"""

from __future__ import annotations

from decimal import Decimal

from desk.scales.reading import Reading, State, shown_reading

LENGTH = 15
LETTERS = 3
DIGITS = 6
UNITS = {1: "g", 3: "oz"}  # 0: pounds or kilograms, by the second letter


def read_words(frame: bytes) -> Reading:
    """Return the reading of one frame without STX and CR; refused when letters or digits are impossible."""
    digits = frame[LETTERS : LETTERS + DIGITS].decode("latin-1")
    if len(frame) != LENGTH or not _sane(frame[:LETTERS]) or not (digits.isascii() and digits.strip(" ").isdigit()):
        return Reading(None, None, State.REFUSED, raw=frame)
    first, second, third = frame[:LETTERS]
    unit = UNITS.get(third & 7) if third & 7 else ("kg" if second >> 4 & 1 else "lb")
    if unit is None:
        return Reading(None, None, State.REFUSED, raw=frame)
    negative = bool(second >> 1 & 1)
    state = _state(second, negative=negative)
    if state not in (State.STABLE, State.MOVING):
        return Reading(None, unit, state, raw=frame)
    value = _placed(int(digits), first & 7)
    return shown_reading(-value if negative else value, unit, state, frame, net=bool(second & 1))


def _sane(letters: bytes) -> bool:
    first, _, third = letters
    return all(letter & 0xA0 == 0x20 for letter in letters) and not (first | third) & 0x40


def _placed(count: int, point: int) -> Decimal:
    """Return the count with its decimal point: code 2 means whole units, 3 tenths, and so on."""
    places = point - 2
    return Decimal(count).scaleb(-places) if places > 0 else Decimal(count * 10**-places)


def _state(second: int, *, negative: bool) -> State:
    if second >> 6 & 1:
        return State.ZERO_ERROR
    if second >> 2 & 1:
        return State.UNDER if negative else State.OVER
    return State.MOVING if second >> 3 & 1 else State.STABLE
