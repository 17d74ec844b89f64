"""The units a scale may use, and their exact size in grams.

Sources: pound 453.59237 g and grain 0.06479891 g by NIST Handbook 44, Appendix C; ounce = pound / 16, troy ounce = 480
grains, pennyweight = 24 grains, short ton = 2000 lb; metric carat 0.2 g (from memory of the same appendix). A tael has
several legal values, so it has no grams. The order is that of HID Usage Tables 1.7, Scales page, 0x51..0x5C.
"""

from __future__ import annotations

from collections.abc import Mapping
from decimal import Decimal

from desk.domain.weight import ONE_NUMBER_UNITS, OUNCE_G, POUND_G

GRAIN_G = Decimal("0.06479891")

HID_UNITS = tuple("mg g kg carat tael grain pennyweight metric_ton short_ton troy_oz oz lb".split())

GRAMS: Mapping[str, Decimal] = {
    "mg": Decimal("0.001"),
    "g": Decimal(1),
    "kg": Decimal(1000),
    "carat": Decimal("0.2"),
    "grain": GRAIN_G,
    "pennyweight": GRAIN_G * 24,
    "metric_ton": Decimal(1_000_000),
    "short_ton": POUND_G * 2000,
    "troy_oz": GRAIN_G * 480,
    "oz": OUNCE_G,
    "lb": POUND_G,
}

DESK_UNITS: frozenset[str] = ONE_NUMBER_UNITS  # any other unit means that a key was pressed by mistake

LINE_UNITS: Mapping[str, str] = {
    "kg": "kg",
    "g": "g",
    "gm": "g",
    "lb": "lb",
    "lbs": "lb",
    "oz": "oz",
    "ozs": "oz",
    "ozt": "troy_oz",
}


def grams_of(value: Decimal, unit: str | None) -> Decimal | None:
    """Return the exact grams of a number in a unit; None when the unit is missing or has no single size."""
    factor = GRAMS.get(unit or "")
    return None if factor is None else plain(value * factor)


def plain(number: Decimal) -> Decimal:
    """Return the same number without trailing zeros or a positive exponent: 700 for 700.00, never 7E+2."""
    short = number.normalize() + 0  # the sum turns -0 into 0
    return short.quantize(Decimal(1)) if int(short.as_tuple().exponent) > 0 else short
