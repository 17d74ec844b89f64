"""Units in tables: in a column of their own, behind the name of a column, as in "weight (g)", or behind a number.

Whoever says a unit for one number must say the same; what says none takes the unit another says. Words of the trade in
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
        LengthUnit.MILLIMETRE,
    ),
    "milímetros": LengthUnit.MILLIMETRE,
}
OTHER_UNITS = frozenset("cm centimetre centimetres centimeter centimeters centímetros dm m ft feet mg t".split())
SIDES = ("length", "width", "thickness")
# Each field that is measured, with the words of its units, and those fields that share their unit with it.
WORDS_OF: Mapping[str, Mapping[str, WeightUnit] | Mapping[str, LengthUnit]] = {
    **dict.fromkeys(("gross", "division", "unit_weight", "tare"), UNITS),
    **dict.fromkeys(SIDES, SIZE_UNITS),
}
SHARED: Sequence[tuple[str, ...]] = (("gross", "division"), ("unit_weight",), ("tare",), SIDES)
LONGEST = 60  # signs of a header or a number with a unit; patterns are not tried on more
_IN_BRACKETS = re.compile(r"(.+?)[\s_]*[(\[]([^()\[\]]*)[)\]]\s*")
_AT_THE_END = re.compile(r"(.+?)(?:[\s_]+(?:in|en)[\s_]+|[\s_,/:-]+)([^\W\d_]+)\.?\s*")
_WITH_UNIT = re.compile(r"([-+]?[0-9][0-9.,'\s]*?|[-+]?[.,][0-9]+)\s*([^\W\d_]+)\.?")


def without_unit(header: str) -> tuple[str, str]:
    """The name of a column and the word of the unit behind it, if one of ours is; `Weight in oz` is `Weight`, `oz`."""
    name, word = _parted(header)
    return (name, word) if word in UNITS or word in SIZE_UNITS else (header, "")


def _parted(header: str) -> tuple[str, str]:
    """A header in two: what stands before brackets or before its last word, and that."""
    found = len(header) <= LONGEST and (_IN_BRACKETS.fullmatch(header) or _AT_THE_END.fullmatch(header))
    if not found:
        return header, ""
    return found[1], " ".join(found[2].casefold().split()).removeprefix("in ").removeprefix("en ")


def unit_in(header: str, ours: str) -> str:
    """The unit a header says for a field of ours, as files spell it; empty when it says none of that kind."""
    return str(WORDS_OF.get(ours, {}).get(without_unit(header)[1], ""))


def strange_unit(header: str, ours: str) -> str:
    """The word of a unit that a header says and that a field of ours is never measured in; empty when it says none."""
    word = _parted(header)[1]
    known = word in UNITS or word in SIZE_UNITS or word in OTHER_UNITS
    return word if ours in WORDS_OF and known and word not in WORDS_OF[ours] else ""


def at_odds(units: Mapping[str, str]) -> Iterator[tuple[str, str]]:
    """Fields whose headers say other units than that of the first field they share their unit with, each with it."""
    for fields in SHARED:
        first, *others = [ours for ours in fields if ours in units] or [""]
        yield from ((other, first) for other in others if _step(units[other]) != _step(units[first]))


def settled(cells: Mapping[str, str], typed: str, headed: Mapping[str, str]) -> tuple[dict[str, str], str]:
    """The numbers of filled cells that share a unit, and that unit; empty when nobody says one.

    `typed` is what stands in the column of units, `headed` the unit each column's header says. NotRead when two units are
    said.
    """
    numbers: dict[str, str] = {}
    said = [unit_word(typed, next(iter(cells), ""))]
    for ours, text in cells.items():
        said.append(headed.get(ours, ""))
        numbers[ours], own = (text, "") if WeightUnit.POUND_OUNCE in said else _split(text, ours)
        said.append(own)
    units = list(dict.fromkeys(filter(None, said)))
    if len(units) > 1:
        raise NotRead(f"one unit; the cell, the header and the column of units say {' and '.join(units)}")
    return numbers, units[0] if units else ""


def unit_word(text: str, ours: str) -> str:
    """A unit as files spell it; a word that is none of this field's units stays as it is."""
    return str(WORDS_OF.get(ours, {}).get(text.casefold(), text))


def _split(text: str, ours: str) -> tuple[str, str]:
    """A number and the unit behind it in one cell; all of the text and no unit for anything else."""
    found = _WITH_UNIT.fullmatch(text) if len(text) <= LONGEST else None
    unit = WORDS_OF[ours].get(found[2].casefold()) if found else None
    return (found[1], str(unit)) if found and unit else (text, "")


def _step(unit: str) -> str:
    """The unit a scale's step is said in: ounces for pounds and ounces."""
    return WeightUnit(unit).counted_in.value if unit in tuple(WeightUnit) else unit
