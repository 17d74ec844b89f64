"""A weight typed by hand: `4.2`, `4.2 oz`, `1lb3oz`, `1 lb 3`, `1 lb 3.2 oz`, `119g`, `0.5 kg`."""

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
_EXAMPLES = "Type it like 4.2 oz, 1 lb 3.2 oz, 119 g or 0.5 kg."


def parse_typed(text: str, default_unit: WeightUnit, division: Decimal | None = None) -> Shown:
    """Return what was typed, as if a scale had shown it. Raises Refused with a sentence for anything ambiguous.

    A bare number is in `default_unit`; on a scale in pounds and ounces it counts ounces. `division` is the scale's
    resolution in that unit, used when the typed unit is the same; otherwise the resolution is one unit of the last
    decimal typed.
    """
    words = " ".join(text.lower().split())
    two = _TWO.fullmatch(words)
    value, unit = _pounds_and_ounces(two) if two else _single(words, default_unit)
    if value <= 0:
        raise Refused("Weight must be over 0. Weigh it again.")
    same = unit is default_unit or (unit in _OUNCES and default_unit in _OUNCES)
    return Shown(value, unit, division if division and same else last_place(value))


def _pounds_and_ounces(match: re.Match[str]) -> tuple[Decimal, WeightUnit]:
    ounces = Decimal(match[2])
    if ounces >= OUNCES_IN_POUND:
        raise Refused(f"{match[2]} oz is a pound or more. Type pounds and the ounces left over, or ounces alone.")
    return int(match[1]) * OUNCES_IN_POUND + ounces, WeightUnit.POUND_OUNCE


def _single(words: str, default_unit: WeightUnit) -> tuple[Decimal, WeightUnit]:
    if "," in words:
        raise Refused(f"Can't tell what the comma means. Use a point. {_EXAMPLES}")
    match = _ONE.fullmatch(words)
    if not match:
        raise Refused(f'Can\'t read "{words}" as a weight. {_EXAMPLES}' if words else _EXAMPLES)
    if match[2] and match[2] not in _UNITS:
        raise Refused(f'Can\'t read the unit "{match[2]}". {_EXAMPLES}')
    return Decimal(match[1]), _UNITS[match[2]] if match[2] else default_unit
