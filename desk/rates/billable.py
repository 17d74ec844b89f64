"""Billable weight: the weight prices are looked up with, and the number to write and declare.

Sources: DMM 133.1.2 (archived 2015-05-31), any fraction of an ounce counts as a whole ounce; DMM 423.1.1 (archived
2008-05-12), the same for pounds; DMM 423.1.3.1 and the price list's notes for dimensional weight.
"""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal

from desk.domain.exact import short
from desk.domain.finding import Code, Finding, reason
from desk.domain.length import INCH_MM, Size
from desk.domain.weight import OUNCE_G, POUND_G, Weight, WeightUnit
from desk.rates.lists.price_list import DimensionalRule, ServiceChart

# applied to the largest dimensions of a piece that is not a box (DMM Advisory, 2006-10-30)
ROUND_FACTOR = Decimal("0.785")
_LETTER_LAST = Decimal("3.5")
_PARCEL_LAST = Decimal("15.999")
_ONE = Decimal(1)


@dataclass(frozen=True, slots=True)
class Billable:
    """What a piece bills as: write `figure` in `unit`; look prices up with `weight`, which is not rounded."""

    figure: Decimal
    unit: str
    weight: Weight
    dimensional: bool
    reasons: tuple[Finding, ...] = ()


def billable(
    weight: Weight, chart: ServiceChart, by_size: Weight | None = None, label: Weight | None = None
) -> Billable:
    """Return what a piece bills as on this list: its weight with the label, or its dimensional weight if that is
    larger.
    """
    dimensional = by_size is not None and by_size > weight
    billed = by_size if by_size is not None and dimensional else weight
    figure, unit = figure_of(billed, chart)
    return Billable(figure, unit, billed, dimensional, reasons_of(weight, chart, by_size, label))


def reasons_of(
    weight: Weight, chart: ServiceChart, by_size: Weight | None = None, label: Weight | None = None
) -> tuple[Finding, ...]:
    """Return why more is billed than the scale showed: a label added after weighing, or the piece's size."""
    reasons = []
    if label:
        reasons.append(reason(Code.LABEL_WEIGHT_ADDED, "your label weight in Setup > Rules", grams=short(label.grams)))
    if by_size is not None and by_size > weight and chart.dimensional is not None:
        rule = chart.dimensional
        pounds = short(by_size.grams / POUND_G)
        reasons.append(reason(Code.DIMENSIONAL_WEIGHT, rule.source, pounds=pounds, divisor=str(rule.divisor)))
    return tuple(reasons)


def figure_of(weight: Weight, chart: ServiceChart) -> tuple[Decimal, str]:
    """Return the number and unit to write: whole grams, or whole ounces up to one pound and whole pounds above.

    The last step before a limit shows the limit itself: 3.5 oz for letters, 15.999 oz for parcels, and the service's
    limit for large envelopes.
    """
    grams = weight.grams
    if chart.bills_in is WeightUnit.GRAM:
        return _up(grams, _ONE), "g"
    last = _last_figure(chart)
    if last is not None and last // 1 * OUNCE_G < grams <= last * OUNCE_G:
        return last, "oz"
    ounces = _up(grams, OUNCE_G)
    return (ounces, "oz") if ounces < 16 else (_up(grams, POUND_G), "lb")


def dimensional_weight(size: Size, rule: DimensionalRule, *, tube: bool = False) -> Weight | None:
    """Return volume divided by the divisor, rounded up to a whole pound; None when the piece is under the rule's
    volume.

    Each side is first rounded to whole inches, `nearest` (half rounds up) or `up`, as the rule requires.
    """
    volume = _ONE
    for side in (size.length, size.width, size.thickness):
        volume *= whole_inches(side.mm, rule.rounding)
    if tube:
        volume *= ROUND_FACTOR
    if volume <= rule.over_cubic_inches:
        return None
    return Weight(_up(volume, rule.divisor) * POUND_G)


def whole_inches(mm: Decimal, rounding: str) -> Decimal:
    """Return a side in whole inches: any fraction up (`up`), or to the nearest, half up (`nearest`)."""
    return _up(mm, INCH_MM) if rounding == "up" else (mm * 2 + INCH_MM) // (INCH_MM * 2)


def _last_figure(chart: ServiceChart) -> Decimal | None:
    if "parcel" in chart.shapes:
        return _PARCEL_LAST
    if "flat" in chart.shapes:
        limit = chart.max_weight
        return limit.ounces().normalize() if limit and limit.grams % OUNCE_G else None
    return _LETTER_LAST


def _up(amount: Decimal, step: Decimal) -> Decimal:
    """Return how many whole steps cover the amount, at least one (the least charge is the first step, DMM 133.1.2)."""
    whole = amount // step
    return max(whole if whole * step >= amount else whole + 1, _ONE)
