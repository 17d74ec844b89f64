"""Sentences about a weight that doesn't fit its contents, and the likely reason."""

from __future__ import annotations

from collections.abc import MutableMapping
from decimal import ROUND_HALF_UP, Decimal

from desk.domain.weight import Weight, WeightUnit
from desk.session.words.figures import listed, measure

Facts = MutableMapping[str, object]
LIKELY = {
    "mailer": " It may be in another mailer than the one recorded.",
    "typo": " A digit may be mistyped.",
    "repeat": " It is the weight of the package before.",
    "two": " Both packages may have been on the scale.",
}


def grams_in_unit(grams: str, unit: str) -> str:
    """Return grams in the scale's unit: `0.6 oz`, `119 g`."""
    try:
        Decimal(grams)
    except ArithmeticError:
        return grams  # as an older version stored it
    if unit in (WeightUnit.GRAM, WeightUnit.KILOGRAM, ""):
        return f"{Decimal(grams).quantize(Decimal(1), ROUND_HALF_UP)} g"
    ounces = Weight(Decimal(grams)).ounces().quantize(Decimal("0.1"), ROUND_HALF_UP)
    return measure(f"{ounces} oz")


def expected_words(expected: Weight, reach: Weight, unit: WeightUnit | None) -> str:
    """Return `4.2 oz, give or take 0.3 oz`: the expected weight with its 95% margin."""
    unit_text = unit.value if unit else WeightUnit.OUNCE.value
    middle, off = (grams_in_unit(f"{weight.grams:.4f}", unit_text) for weight in (expected, reach))
    return f"{middle}, give or take {off}"


def learned_words(learned: Weight, reach: Weight, unit: WeightUnit | None) -> str:
    """Return `0.49 oz, give or take 0.02 oz`: a learned weight, with one more decimal where it is known that well."""
    in_grams = unit in (WeightUnit.GRAM, WeightUnit.KILOGRAM)
    name, places = ("g", 0) if in_grams else ("oz", 1)
    middle, off = (weight.grams if in_grams else weight.ounces() for weight in (learned, reach))
    finest = Decimal(1).scaleb(-places - 1 if off < Decimal(1).scaleb(-places) else -places)
    middle, off = (figure.quantize(finest, ROUND_HALF_UP) for figure in (middle, off))
    return measure(f"{middle} {name}, give or take {max(off, finest)} {name}")


def ounce_chance_words(chance: float) -> str:
    """Return the chance of being over one ounce, in words; empty where it is clear."""
    if not 0.02 < chance < 0.98:
        return ""
    return f"It may be over 1 oz ({round(chance * 10)} in 10)." if chance >= 0.05 else "It is probably under 1 oz."


def too_light(facts: Facts) -> None:
    """Add `off`, `expected` and what is probably missing."""
    _amounts(facts, "missing_g")
    items = _items(facts)
    weighs = f" {listed(items, 'or')} weighs about that." if items else ""
    facts["likely"] = weighs or LIKELY.get(str(facts.get("cause", "")), " Something may be missing.")


def too_heavy(facts: Facts) -> None:
    """Add `off`, `expected` and what is probably in it: always both extra packaging and one more item."""
    _amounts(facts, "excess_g")
    cause, items = str(facts.get("cause", "")), _items(facts)
    more = f"one more item ({', '.join(items)})" if items else "one more item"
    facts["likely"] = LIKELY.get(cause, f" Extra packaging, or {more}.")


def swapped(facts: Facts) -> None:
    """Add the likely explanation of the two readings."""
    cause = str(facts.get("cause", ""))
    facts["likely"] = LIKELY.get(cause, " The two packages may be swapped.")


def _items(facts: Facts) -> list[str]:
    items = facts.get("items")
    return [str(item) for item in items] if isinstance(items, tuple) else [str(items)] if items else []


def _amounts(facts: Facts, off: str) -> None:
    unit = str(facts.get("unit", ""))
    facts["off"] = grams_in_unit(str(facts[off]), unit)
    facts["expected"] = grams_in_unit(str(facts["expected_g"]), unit)
