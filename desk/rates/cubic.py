"""Cubic price: what a small parcel pays by its volume, whatever it weighs.

Source: DMM 283.1.3 (July 12, 2026): each side down to the nearest 1/4 in, at most 1 cubic foot and 22 in, no rolls or
tubes; the price of the next tier up.
"""

from __future__ import annotations

from decimal import Decimal

from desk.domain.exact import short
from desk.domain.finding import Code, Finding, reason
from desk.domain.length import INCH_MM, Size
from desk.domain.size_limits import CUBIC_FOOT_INCHES, LONG
from desk.rates.lists.price_list import CubicTier, ServiceChart
from desk.rates.posting import Posting

SOURCE = "DMM 283.1.3"
_QUARTER_MM = INCH_MM / 4
_MOST = Decimal(1)  # cubic feet


def measured_cubic_feet(size: Size) -> Decimal:
    """Return the volume in cubic feet with each side rounded down to a quarter inch (DMM 283.1.3.3)."""
    quarters = Decimal(1)
    for side in (size.length, size.width, size.thickness):
        quarters *= side.mm // _QUARTER_MM
    return quarters / (4**3 * CUBIC_FOOT_INCHES)


def cubic_refusal(posting: Posting) -> Finding | None:
    """Return why a parcel may not pay by its volume; None when it may (DMM 283.1.3.1)."""
    if posting.size is None:
        return reason(Code.SIZE_NOT_KNOWN, SOURCE)
    if posting.rolled:
        return reason(Code.NO_ROLLS, SOURCE)
    if posting.size.sides()[0].mm > LONG.mm:
        return reason(Code.OVER_SIZE, SOURCE, limit=short(LONG.inches()), measure="longest side")
    if measured_cubic_feet(posting.size) > _MOST:
        return reason(Code.OVER_CUBIC_FOOT, SOURCE)
    return None


def tier_of(chart: ServiceChart, posting: Posting, key: str) -> CubicTier | None:
    """Return the tier a parcel pays; None for a list not priced by size, or a piece without a size."""
    if not chart.tiers or posting.size is None:
        return None
    return chart.tier(measured_cubic_feet(posting.size), key)
