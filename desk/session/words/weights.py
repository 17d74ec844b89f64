"""Weights as the reader writes them: 1.3 oz, 1 lb 3.2 oz, 119 g."""

from __future__ import annotations

from decimal import Decimal

from desk.domain.weight import GRAMS_IN, POUND_G, Shown, Weight, WeightUnit, pounds_and_ounces
from desk.session.words.figures import measure


def reading_words(shown: Shown) -> str:
    """Return a reading with every decimal the scale showed: `1.3 oz`, `1 lb 3.2 oz`."""
    return measure(shown.words)


def weight_words(weight: Weight, unit: WeightUnit | None) -> str:
    """Return a weight in the shop's unit: whole grams, else ounces (and pounds) to a tenth."""
    return measure(_plain(weight, unit))


def _plain(weight: Weight, unit: WeightUnit | None) -> str:
    if unit is WeightUnit.GRAM:
        return f"{weight.grams.quantize(Decimal(1))} g"
    if unit is WeightUnit.KILOGRAM:
        return f"{(weight.grams / GRAMS_IN[WeightUnit.KILOGRAM]).quantize(Decimal('0.001'))} kg"
    if unit is WeightUnit.POUND_OUNCE and weight.grams >= POUND_G:
        pounds, ounces = pounds_and_ounces(weight, Decimal("0.1"))
        return f"{pounds} lb {ounces} oz"
    return f"{weight.ounces().quantize(Decimal('0.1'))} oz"
