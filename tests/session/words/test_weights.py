"""Weights in the shop's unit, on either side of where they carry over."""

from __future__ import annotations

from decimal import Decimal

import pytest

from desk.domain.weight import Weight, WeightUnit
from desk.session.words.weights import weight_words


@pytest.mark.parametrize(
    ("value", "unit", "shop_unit", "words"),
    [
        ("1.44", "oz", None, "1.4 oz"),
        ("1.46", "oz", WeightUnit.OUNCE, "1.5 oz"),
        ("41.4", "g", WeightUnit.GRAM, "41 g"),
        ("41.4", "g", WeightUnit.KILOGRAM, "0.041 kg"),
        ("15.9", "oz", WeightUnit.POUND_OUNCE, "15.9 oz"),
        ("16", "oz", WeightUnit.POUND_OUNCE, "1 lb 0.0 oz"),
        ("19.2", "oz", WeightUnit.POUND_OUNCE, "1 lb 3.2 oz"),
        ("31.94", "oz", WeightUnit.POUND_OUNCE, "1 lb 15.9 oz"),
        ("31.96", "oz", WeightUnit.POUND_OUNCE, "2 lb 0.0 oz"),
    ],
)
def test_weights_are_written_in_the_unit_of_the_shop(
    value: str, unit: str, shop_unit: WeightUnit | None, words: str
) -> None:
    assert weight_words(Weight.of(Decimal(value), unit), shop_unit) == words
