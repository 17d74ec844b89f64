"""The step of a scale, found from what it showed: the last digit is not the step, a scale may count 0.0, 0.2, 0.4."""

from __future__ import annotations

import math
from collections.abc import Iterable
from decimal import Decimal

ENOUGH_READINGS = 12  # different ones; common practice, no source


def step_seen(values: Iterable[Decimal]) -> Decimal | None:
    """The greatest step all shown values of one unit are whole counts of; None before a dozen different ones."""
    shown = {abs(value) for value in values if value}
    if len(shown) < ENOUGH_READINGS:
        return None
    places = max(0, *(-int(value.as_tuple().exponent) for value in shown))
    return Decimal(math.gcd(*(int(value.scaleb(places)) for value in shown))).scaleb(-places)
