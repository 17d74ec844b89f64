"""Fees: what is added to the price for stiff letters and for long, bulky or rolled parcels.

Source: price list of 2025-10-05, pp. 5, 6, 7, 11, 15 (over 22 in, over 30 in, over 2 cu ft, tubes and rolls). The list
does not say whether one parcel's fees add up, so we charge the sum and warn.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from decimal import Decimal

from desk.domain.length import INCH_MM, Size
from desk.domain.money import Money
from desk.domain.size_limits import BULKY_CUBIC_INCHES, LONG, VERY_LONG
from desk.rates.lists.price_list import ServiceChart, Surcharge
from desk.rates.posting import Posting
from desk.rates.shape import ShapeOptions

_BULKY = BULKY_CUBIC_INCHES * INCH_MM**3  # in cubic millimeters


@dataclass(frozen=True, slots=True)
class Fees:
    """The fees charged; `unlisted` names fees that are due but missing from the list."""

    asked: tuple[Surcharge, ...] = ()
    unlisted: tuple[str, ...] = ()

    @property
    def unclear(self) -> bool:
        """Return True when the total to pay is uncertain."""
        return bool(self.unlisted) or sum(fee.code != "nonmachinable" for fee in self.asked) > 1

    def total(self, base: Money) -> Money:
        """Return the price with every fee."""
        if not self.asked:
            return base
        return Money(base.minor + sum(fee.amount.minor for fee in self.asked), base.currency)

    def least(self, base: Money) -> Money:
        """Return the price if only the largest fee is due."""
        return Money(base.minor + max((fee.amount.minor for fee in self.asked), default=0), base.currency)


NO_FEES = Fees()


def fees_of(chart: ServiceChart, posting: Posting, form: ShapeOptions) -> Fees:
    """Return the fees a list charges for this piece."""
    if "parcel" not in chart.shapes:
        due = ["nonmachinable"] if form.machinable is False and "letter" in chart.shapes else []
    elif chart.flat_rate or posting.size is None:
        return NO_FEES
    else:
        due = _due(posting)
    return _looked_up(chart, due) if due else NO_FEES


def _due(posting: Posting) -> list[str]:
    assert posting.size is not None
    longest = posting.size.sides()[0].mm
    due = []
    if longest > LONG.mm:
        due.append("long-30" if longest > VERY_LONG.mm else "long-22")
    if _volume(posting.size) > _BULKY:
        due.append("bulky")
    if posting.rolled:
        due.append("tube")
    return due


def _volume(size: Size) -> Decimal:
    return size.length.mm * size.width.mm * size.thickness.mm


def _looked_up(chart: ServiceChart, due: Sequence[str]) -> Fees:
    listed = {fee.code: fee for fee in chart.surcharges}
    asked = tuple(listed[code] for code in due if code in listed)
    unlisted = () if chart.fees_listed else tuple(code for code in due if code not in listed)
    return Fees(asked, unlisted)
