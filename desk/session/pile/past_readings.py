"""Past readings against what was expected at the time, for the charts in Setup."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

from desk.domain.shop.product import Product
from desk.domain.weight import GRAMS_IN, WeightUnit
from desk.session.pile.pile import Pile
from desk.session.verdict.case import Case

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


def readings_of_product(pile: Pile, product: Product) -> tuple[PastReading, ...]:
    """Return the last readings of packages with a product in them, oldest first."""
    shop = pile.terms.shop
    return _readings(pile, lambda case: any(shop.product_for(line) == product for line in case.order.lines))


def readings_of_mailer(pile: Pile, name: str) -> tuple[PastReading, ...]:
    """Return the last readings of packages in a mailer, oldest first."""
    return _readings(pile, lambda case: case.mailer_name == name)


def _readings(pile: Pile, has: Callable[[Case], bool]) -> tuple[PastReading, ...]:
    weighed = (pile.verdicts[number].case for number in pile.in_turn())
    found = [one for case in weighed if has(case) and (one := _reading(case)) is not None]
    return tuple(found[-MOST:])


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
    last = "as expected" if not float(amount.split(maxsplit=1)[0]) else f"{amount} {'heavy' if off > 0 else 'light'}"
    packages = "Last package" if len(readings) == 1 else f"Last {len(readings)} packages"
    return f"{packages}: {inside} in range. The last one was {last}."
