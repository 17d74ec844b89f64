"""Weight: exact grams, and the number a scale showed.

One avoirdupois ounce is 28.349523125 g and one pound 453.59237 g, both exact by definition (NIST Handbook 44, Appendix
C). Nothing here is a float, and nothing is rounded before comparing.
"""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal
from enum import StrEnum

from desk.domain.exact import exact

OUNCES_IN_POUND = 16
OUNCE_G = Decimal("28.349523125")
POUND_G = Decimal("453.59237")


class WeightUnit(StrEnum):
    """A unit the program accepts; the value is its spelling in files."""

    OUNCE = "oz"
    POUND = "lb"
    GRAM = "g"
    KILOGRAM = "kg"
    POUND_OUNCE = "lb-oz"  # shown as `1 lb 3.2 oz`; the number is in ounces

    @property
    def counted_in(self) -> WeightUnit:
        """Return the unit of the stored number: ounces for pounds and ounces."""
        return WeightUnit.OUNCE if self is WeightUnit.POUND_OUNCE else self


ONE_NUMBER_UNITS = frozenset(unit.counted_in for unit in WeightUnit)  # all but pounds and ounces together
GRAMS_IN = {
    WeightUnit.OUNCE: OUNCE_G,
    WeightUnit.POUND: POUND_G,
    WeightUnit.GRAM: Decimal(1),
    WeightUnit.KILOGRAM: Decimal(1000),
    WeightUnit.POUND_OUNCE: OUNCE_G,
}


@dataclass(frozen=True, slots=True)
class Weight:
    """An exact weight in grams."""

    grams: Decimal

    @classmethod
    def of(cls, value: Decimal | str | int, unit: WeightUnit | str) -> Weight:
        """Return the weight of a number in a unit. Raises ValueError for an unknown unit or an invalid number."""
        return cls(exact(value) * GRAMS_IN[WeightUnit(unit)])

    def __add__(self, other: Weight) -> Weight:
        return Weight(self.grams + other.grams)

    def __sub__(self, other: Weight) -> Weight:
        return Weight(self.grams - other.grams)

    def __mul__(self, count: int) -> Weight:
        return Weight(self.grams * count)

    def __bool__(self) -> bool:
        return self.grams != 0

    # Written out because dataclass ordering compares tuples, and a batch compares a million weights.
    def __lt__(self, other: Weight) -> bool:
        return self.grams < other.grams

    def __le__(self, other: Weight) -> bool:
        return self.grams <= other.grams

    def __gt__(self, other: Weight) -> bool:
        return self.grams > other.grams

    def __ge__(self, other: Weight) -> bool:
        return self.grams >= other.grams

    def in_unit(self, unit: WeightUnit) -> Decimal:
        """Return the number in that unit, to 28 digits."""
        return self.grams / GRAMS_IN[unit]

    def ounces(self) -> Decimal:
        """Return the number of ounces, to 28 digits; for display and price rows, never for comparing limits."""
        return self.grams / OUNCE_G


def pounds_and_ounces(weight: Weight, place: Decimal) -> tuple[int, Decimal]:
    """Return whole pounds and the remaining ounces, rounded to a decimal place such as 0.01 (half to even)."""
    ounces_in_all = (weight.grams / OUNCE_G).quantize(place)
    pounds, ounces = divmod(ounces_in_all, OUNCES_IN_POUND)
    return int(pounds), ounces


NOTHING = Weight(Decimal(0))


@dataclass(frozen=True, slots=True)
class Shown:
    """What a scale showed: the number, its unit, and the scale's resolution in that unit (ounces for `lb-oz`).

    A weighing keeps this and not only grams, because the uncertainty of a reading depends on the resolution. `low` and
    `high` are the values the display alternated between, None: steady. `offset` is what the empty pan showed before.
    """

    value: Decimal
    unit: WeightUnit
    division: Decimal
    low: Decimal | None = None
    high: Decimal | None = None
    offset: Decimal = Decimal(0)

    @property
    def weight(self) -> Weight:
        """Return the reading as an exact weight."""
        return Weight(self.value * GRAMS_IN[self.unit])

    @property
    def step(self) -> Weight:
        """Return the scale's resolution as an exact weight."""
        return Weight(self.division * GRAMS_IN[self.unit])

    @property
    def words(self) -> str:
        """Return the reading as the scale showed it: `1.3 oz`, `1 lb 3.2 oz`."""
        if self.unit is not WeightUnit.POUND_OUNCE:
            return f"{self.value} {self.unit}"
        pounds, ounces = divmod(self.value, OUNCES_IN_POUND)
        return f"{int(pounds)} lb {ounces} oz"


def last_place(value: Decimal) -> Decimal:
    """Return one unit of the last decimal typed, the default resolution: 0.1 for `4.2`, 1 for `119`."""
    exponent = value.as_tuple().exponent
    return Decimal(1).scaleb(min(int(exponent), 0))
