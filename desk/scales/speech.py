"""How a virtual scale says a weight: one frame in each built-in way of talking, the other way round from `drivers.presets`."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from decimal import Decimal

MOVING_BIT, UNDER_BIT, OVER_BIT = 1, 1, 2  # of the status bytes


@dataclass(frozen=True, slots=True)
class Word:
    """What the display shows: the number, its unit (`oz` or `g`), whether it is at rest, and whether it is too much."""

    value: Decimal
    unit: str
    at_rest: bool = True
    over: bool = False


def _status_prefixed(word: Word) -> str:
    if word.over:
        return f"OL,GS,+{'9' * 7},{word.unit:>2}\r\n"
    sign = "-" if word.value < 0 else "+"
    return f"{'ST' if word.at_rest else 'US'},GS,{sign}{abs(word.value):>7},{word.unit:>2}\r\n"


def _status(word: Word) -> str:
    first = 0x30 | (0 if word.at_rest else MOVING_BIT)
    second = 0x30 | (OVER_BIT if word.over else UNDER_BIT if word.value < 0 else 0)
    return f"S{chr(first)}{chr(second)}\r\x03"


def _poll_etx(word: Word) -> str:
    quiet = word.over or word.value < 0
    return f"\n{_status(word)}" if quiet else f"\n{word.value:07.2f}{word.unit.upper()}\r\n{_status(word)}"


def _pounds(word: Word) -> str:
    if word.over or word.value < 0:
        return f"\n{_status(word)}"
    pounds, ounces = divmod(word.value, 16)
    return f"\n{pounds:3.0f}LB {ounces:4.1f}OZ\r\n{_status(word)}"


def _stable_letter(word: Word) -> str:
    if word.over:
        return "S +\r\n"
    return f"S {'S' if word.at_rest else 'D'} {word.value:>10} {word.unit}\r\n"


def _value_unit_mark(word: Word) -> str:
    if word.over:
        return f"  ^^^^^^^^ {word.unit}\r\n"
    return f"{word.value:>10} {word.unit:>2}    {' ' if word.at_rest else '?'}\r\n"


def _fixed_fields(word: Word) -> str:
    if word.over:
        return f"\nO1G  {'-' * 10}{word.unit:<3}\r"
    return f"\n 1G{' ' if word.at_rest else 'M'} {word.value:>10}{word.unit:<3}\r"


def _framed_words(word: Word) -> str:
    places = max(0, -int(word.value.as_tuple().exponent))
    first = 0x28 | (places + 2)
    negative, moving, over = word.value < 0, not word.at_rest, word.over
    second = 0x20 | negative << 1 | over << 2 | moving << 3
    third = 0x21 if word.unit == "g" else 0x23
    count = 999_999 if over else int(abs(word.value).scaleb(places))
    return f"\x02{chr(first)}{chr(second)}{chr(third)}{count:6d}000000\r"


SPEECH: Mapping[str, Callable[[Word], str]] = {
    "status-prefixed": _status_prefixed,
    "poll-etx": _poll_etx,
    "poll-etx-lb-oz": _pounds,
    "stable-letter": _stable_letter,
    "value-unit-mark": _value_unit_mark,
    "fixed-fields": _fixed_fields,
    "framed-words": _framed_words,
}


def say(preset: str, word: Word) -> bytes:
    """The bytes a scale sends in that way of talking; KeyError for one nobody knows."""
    return SPEECH[preset](word).encode("ascii")
