"""A weight typed by hand: `4.2`, `3 1/2 oz`, `1lb3oz`, `1 lb 3`, `1 lb 3.2 oz`, `119g`, `0.5 kg`."""

from __future__ import annotations

import re
from decimal import Decimal

from desk.domain.faults import Refused
from desk.domain.weight import OUNCES_IN_POUND, Shown, WeightUnit, last_place

_NUMBER = r"\d{1,6}(?:\.\d{0,4})?|\.\d{1,4}"
_UNITS = {
    "oz": WeightUnit.OUNCE,
    "ozs": WeightUnit.OUNCE,
    "lb": WeightUnit.POUND,
    "lbs": WeightUnit.POUND,
    "g": WeightUnit.GRAM,
    "gm": WeightUnit.GRAM,
    "kg": WeightUnit.KILOGRAM,
}
_ONE = re.compile(rf"({_NUMBER}) *([a-z]*)\.?", re.ASCII)
_TWO = re.compile(rf"(\d{{1,4}}) *lbs? *({_NUMBER}) *(?:ozs?)?", re.ASCII)
_OUNCES = (WeightUnit.OUNCE, WeightUnit.POUND_OUNCE)
_FRACTION = re.compile(r"(?:(\d{1,6}) +)?(\d{1,2}) ?/ ?(2|4|8|16)(?!\d)", re.ASCII)
_WRITTEN = {"½": "1/2", "¼": "1/4", "¾": "3/4", "⅛": "1/8", "⅜": "3/8", "⅝": "5/8", "⅞": "7/8"}
EXAMPLES = "Type it like 4.2 oz, 1 lb 3.2 oz, 119 g or 0.5 kg."


def parse_typed(text: str, default_unit: WeightUnit, division: Decimal | None = None) -> Shown:
    """Return what was typed, as if a scale had shown it. Raises Refused with a sentence for anything ambiguous.

    A bare number is in `default_unit`; on a scale in pounds and ounces it counts ounces. `division` is the scale's
    resolution in that unit, used when the typed unit is the same; otherwise the resolution is one unit of the last
    decimal typed, or the part typed: a half in `3 1/2`.
    """
    words, part = _decimal(" ".join(text.lower().split()))
    two = _TWO.fullmatch(words)
    value, unit = _pounds_and_ounces(two) if two else _single(words, default_unit)
    if value <= 0:
        raise Refused("Weight must be over 0. Weigh it again.")
    same = unit is default_unit or (unit in _OUNCES and default_unit in _OUNCES)
    return Shown(value, unit, division if division and same else part or last_place(value))


def _decimal(words: str) -> tuple[str, Decimal | None]:
    """Return the words with a fraction as a decimal, and one such part: `3 1/2 oz` as `3.5 oz` and 0.5.

    Halves to sixteenths are read, as scales with a dial have them.
    """
    for character, fraction in _WRITTEN.items():
        words = words.replace(character, f" {fraction}").strip()
    match = _FRACTION.search(words)
    return _FRACTION.sub(_value, words), 1 / Decimal(match[3]) if match else None


def _value(match: re.Match[str]) -> str:
    part = Decimal(match[2]) / Decimal(match[3])
    return f"{Decimal(match[1] or 0) + part:f}" if part < 1 else match[0]


def _pounds_and_ounces(match: re.Match[str]) -> tuple[Decimal, WeightUnit]:
    ounces = Decimal(match[2])
    if ounces >= OUNCES_IN_POUND:
        raise Refused(f"{match[2]} oz is a pound or more. Type pounds and the ounces left over, or ounces alone.")
    return int(match[1]) * OUNCES_IN_POUND + ounces, WeightUnit.POUND_OUNCE


def _single(words: str, default_unit: WeightUnit) -> tuple[Decimal, WeightUnit]:
    if "," in words:
        raise Refused(f"Can't tell what the comma means. {EXAMPLES}")
    match = _ONE.fullmatch(words)
    if not match:
        raise Refused(f'Can\'t read "{words}" as a weight. {EXAMPLES}' if words else EXAMPLES)
    if match[2] and match[2] not in _UNITS:
        raise Refused(f'Can\'t read the unit "{match[2]}". {EXAMPLES}')
    return Decimal(match[1]), _UNITS[match[2]] if match[2] else default_unit
