"""Past readings against what was expected at the time, for the charts in Setup."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from desk.domain.shop.product import Product
from desk.domain.shop.shop import Shop
from desk.domain.weight import GRAMS_IN, WeightUnit
from desk.session.verdict.case import Case
from desk.session.words.figures import counted, measure

MOST = 40  # readings in a chart


@dataclass(frozen=True, slots=True)
class PastReading:
    """How far a reading was off, and the range it was expected in, in grams around the expectation."""

    off_g: float
    low_g: float
    high_g: float

    @property
    def is_inside(self) -> bool:
        """Return True when the reading was in its range."""
        return self.low_g <= self.off_g <= self.high_g


def readings_of_product(cases: Iterable[Case], shop: Shop, product: Product) -> tuple[PastReading, ...]:
    """Return the last readings of packages with a product in them. Cases are in the order of weighing."""
    return _readings(case for case in cases if any(shop.product_for(line) == product for line in case.order.lines))


def readings_of_mailer(cases: Iterable[Case], name: str) -> tuple[PastReading, ...]:
    """Return the last readings of packages in a mailer. Cases are in the order of weighing."""
    return _readings(case for case in cases if case.mailer_name == name)


def _readings(cases: Iterable[Case]) -> tuple[PastReading, ...]:
    return tuple(one for case in cases if (one := _reading(case)) is not None)[-MOST:]


def _reading(case: Case) -> PastReading | None:
    if case.weighing is None or case.fit is None or not case.fit.expected.can_judge:
        return None
    hoped = case.fit.expected
    off = float(case.weighing.shown.weight.grams) - hoped.grams
    return PastReading(off, hoped.low_g - hoped.grams, hoped.high_g - hoped.grams)


def readings_in_words(readings: tuple[PastReading, ...], unit: WeightUnit | None) -> str:
    """Return what the chart shows: `Last 12 packages: 11 in range. The last one was 0.1 oz light.`"""
    if not readings:
        return ""
    inside = sum(one.is_inside for one in readings)
    by, name = (
        (1.0, "g") if unit in (WeightUnit.GRAM, WeightUnit.KILOGRAM) else (float(GRAMS_IN[WeightUnit.OUNCE]), "oz")
    )
    off = readings[-1].off_g / by
    amount = f"{abs(off):.0f} {name}" if name == "g" else f"{abs(off):.1f} {name}"
    last = (
        "as expected"
        if not float(amount.split(maxsplit=1)[0])
        else f"{measure(amount)} {'heavy' if off > 0 else 'light'}"
    )
    packages = "Last package" if len(readings) == 1 else f"Last {counted(len(readings), 'package')}"
    return f"{packages}: {inside} in range. The last one was {last}."
