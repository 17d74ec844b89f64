"""Weights as the reader writes them: 1.3 oz, 1 lb 3.2 oz, 119 g."""

from __future__ import annotations

from decimal import Decimal

from desk.domain.weight import GRAMS_IN, POUND_G, Weight, WeightUnit

OUNCES_IN_POUND = 16


def weight_words(weight: Weight, unit: WeightUnit | None) -> str:
    """Return a weight in the shop's unit: whole grams, else ounces (and pounds) to a tenth."""
    if unit is WeightUnit.GRAM:
        return f"{weight.grams.quantize(Decimal(1))} g"
    if unit is WeightUnit.KILOGRAM:
        return f"{(weight.grams / GRAMS_IN[WeightUnit.KILOGRAM]).quantize(Decimal('0.001'))} kg"
    if unit is WeightUnit.POUND_OUNCE and weight.grams >= POUND_G:
        pounds, rest = divmod(weight.grams, POUND_G)
        ounces = (rest * OUNCES_IN_POUND / POUND_G).quantize(Decimal("0.1"))
        return f"{int(pounds)} lb {ounces} oz" if ounces < OUNCES_IN_POUND else f"{int(pounds) + 1} lb 0.0 oz"
    return f"{weight.ounces().quantize(Decimal('0.1'))} oz"
