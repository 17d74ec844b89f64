"""Units in tables: in their own column, after a header, as in "weight (g)", or after a number.

Units given for one number in several places must agree; a place without one takes the unit of another. Words used in
English, German, French and Spanish; common practice, no source.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping, Sequence

from desk.domain.length import LengthUnit
from desk.domain.weight import WeightUnit
from desk.intake.columns.amounts import NotRead

UNITS: Mapping[str, WeightUnit] = {
    **dict.fromkeys(("oz", "ounce", "ounces", "unze", "unzen", "onza", "onzas"), WeightUnit.OUNCE),
    **dict.fromkeys(("lb", "lbs", "pound", "pounds"), WeightUnit.POUND),
    **dict.fromkeys(("g", "gram", "grams", "gramm", "gramme", "grammes", "gramo", "gramos"), WeightUnit.GRAM),
    **dict.fromkeys(
        ("kg", "kilogram", "kilograms", "kilogramm", "kilogramme", "kilogrammes", "kilogramo", "kilogramos"),
        WeightUnit.KILOGRAM,
    ),
    **dict.fromkeys(("lb-oz", "lb oz", "lb/oz"), WeightUnit.POUND_OUNCE),
}
SIZE_UNITS: Mapping[str, LengthUnit] = {
    **dict.fromkeys(("in", "inch", "inches", "zoll", "pouce", "pouces", "pulgada", "pulgadas"), LengthUnit.INCH),
    **dict.fromkeys(
        ("mm", "millimetre", "millimetres", "millimeter", "millimeters", "millimètre", "millimètres", "milímetro"),
        LengthUnit.MILLIMETER,
    ),
    "milímetros": LengthUnit.MILLIMETER,
}
OTHER_UNITS = frozenset("cm centimetre centimetres centimeter centimeters centímetros dm m ft feet mg t".split())
SIDES = ("length", "width", "thickness")
# Each measured field with its unit words, and the fields that share a unit.
WORDS_OF: Mapping[str, Mapping[str, WeightUnit] | Mapping[str, LengthUnit]] = {
    **dict.fromkeys(("gross", "division", "unit_weight", "tare"), UNITS),
    **dict.fromkeys(SIDES, SIZE_UNITS),
}
SHARED: Sequence[tuple[str, ...]] = (("gross", "division"), ("unit_weight",), ("tare",), SIDES)
LONGEST = 60  # characters of a header or a number with a unit; patterns skip longer ones
_IN_BRACKETS = re.compile(r"(.+?)[\s_]*[(\[]([^()\[\]]*)[)\]]\s*")
_AT_THE_END = re.compile(r"(.+?)(?:[\s_]+(?:in|en)[\s_]+|[\s_,/:-]+)([^\W\d_]+)\.?\s*")
_WITH_UNIT = re.compile(r"([-+]?[0-9][0-9.,'\s]*?|[-+]?[.,][0-9]+)\s*([^\W\d_]+)\.?")


def without_unit(header: str) -> tuple[str, str]:
    """Return a header's name and the unit word after it, if it is one of ours: `Weight in oz` gives `Weight`, `oz`."""
    name, word = _parted(header)
    return (name, word) if word in UNITS or word in SIZE_UNITS else (header, "")


def _parted(header: str) -> tuple[str, str]:
    """Return a header in two parts: what comes before its brackets or last word, and the rest."""
    match = len(header) <= LONGEST and (_IN_BRACKETS.fullmatch(header) or _AT_THE_END.fullmatch(header))
    if not match:
        return header, ""
    return match[1], " ".join(match[2].casefold().split()).removeprefix("in ").removeprefix("en ")


def unit_in(header: str, ours: str) -> str:
    """Return the unit a header names for one of our fields, as files spell it; empty when there is none."""
    return str(WORDS_OF.get(ours, {}).get(without_unit(header)[1], ""))


def strange_unit(header: str, ours: str) -> str:
    """Return the unit word in a header that this field is never measured in; empty when there is none."""
    word = _parted(header)[1]
    known = word in UNITS or word in SIZE_UNITS or word in OTHER_UNITS
    return word if ours in WORDS_OF and known and word not in WORDS_OF[ours] else ""


def at_odds(units: Mapping[str, str]) -> Iterator[tuple[str, str]]:
    """Yield pairs of fields that must share a unit but whose headers disagree."""
    for fields in SHARED:
        first, *others = [ours for ours in fields if ours in units] or [""]
        yield from ((other, first) for other in others if _step(units[other]) != _step(units[first]))


def settled(cells: Mapping[str, str], typed: str, headed: Mapping[str, str]) -> tuple[dict[str, str], str]:
    """Return the numbers of filled cells that share a unit, and that unit; empty when none is given.

    `typed` is the cell of the unit column, `headed` the unit in each column's header.

    Raises:
        NotRead: two different units are given.
    """
    numbers: dict[str, str] = {}
    given = [unit_word(typed, next(iter(cells), ""))]
    for ours, text in cells.items():
        given.append(headed.get(ours, ""))
        numbers[ours], own = (text, "") if WeightUnit.POUND_OUNCE in given else _split(text, ours)
        given.append(own)
    units = list(dict.fromkeys(filter(None, given)))
    if len(units) > 1:
        raise NotRead(f"one unit; the cell, the header and the column of units say {' and '.join(units)}")
    return numbers, units[0] if units else ""


def unit_word(text: str, ours: str) -> str:
    """Return a unit as files spell it; a word that is not one of this field's units is unchanged."""
    return str(WORDS_OF.get(ours, {}).get(text.casefold(), text))


def _split(text: str, ours: str) -> tuple[str, str]:
    """Return the number and the unit after it in one cell; otherwise the whole text and no unit."""
    match = _WITH_UNIT.fullmatch(text) if len(text) <= LONGEST else None
    unit = WORDS_OF[ours].get(match[2].casefold()) if match else None
    return (match[1], str(unit)) if match and unit else (text, "")


def _step(unit: str) -> str:
    """Return the unit of a scale's step: ounces for pounds and ounces."""
    return WeightUnit(unit).counted_in.value if unit in tuple(WeightUnit) else unit
