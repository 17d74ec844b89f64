"""Weight: exact grams, and what a scale showed.

One avoirdupois ounce is 28.349523125 g and one pound 453.59237 g, both exact by definition
(NIST Handbook 44, Appendix C). Nothing here is a float, and nothing is rounded before it is compared.
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
    """A unit a packing desk accepts; the value is its spelling in files."""

    OUNCE = "oz"
    POUND = "lb"
    GRAM = "g"
    KILOGRAM = "kg"
    POUND_OUNCE = "lb-oz"  # shown as `1 lb 3.2 oz`; the number is kept in ounces

    @property
    def counted_in(self) -> WeightUnit:
        """The unit that a number with this unit is kept in: ounces for pounds and ounces."""
        return WeightUnit.OUNCE if self is WeightUnit.POUND_OUNCE else self


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
        """Make a weight from a number in a unit; ValueError for an unknown unit or a number that is none."""
        return cls(exact(value) * GRAMS_IN[WeightUnit(unit)])

    def __add__(self, other: Weight) -> Weight:
        return Weight(self.grams + other.grams)

    def __sub__(self, other: Weight) -> Weight:
        return Weight(self.grams - other.grams)

    def __mul__(self, count: int) -> Weight:
        return Weight(self.grams * count)

    def __bool__(self) -> bool:
        return self.grams != 0

    # Written out, since the order of a dataclass compares tuples, and a pile compares a million weights.
    def __lt__(self, other: Weight) -> bool:
        return self.grams < other.grams

    def __le__(self, other: Weight) -> bool:
        return self.grams <= other.grams

    def __gt__(self, other: Weight) -> bool:
        return self.grams > other.grams

    def __ge__(self, other: Weight) -> bool:
        return self.grams >= other.grams

    def in_unit(self, unit: WeightUnit) -> Decimal:
        """The number in that unit, to the precision of decimal arithmetic (28 digits)."""
        return self.grams / GRAMS_IN[unit]

    def ounces(self) -> Decimal:
        """The number of ounces, to 28 digits; for showing and for price rows, never for comparing limits."""
        return self.grams / OUNCE_G


def pounds_and_ounces(weight: Weight, place: Decimal) -> tuple[int, Decimal]:
    """Return whole pounds and the ounces beside them, rounded to a decimal place such as 0.01 (half to even)."""
    ounces_in_all = (weight.grams / OUNCE_G).quantize(place)
    pounds, ounces = divmod(ounces_in_all, OUNCES_IN_POUND)
    return int(pounds), ounces


NOTHING = Weight(Decimal(0))


@dataclass(frozen=True, slots=True)
class Shown:
    """What a scale showed: the number, its unit, and the scale's step in that unit (ounces for `lb-oz`).

    A weighing keeps this and not only the grams, because the doubt of a reading depends on the step. `low` and `high`
    are the values it went to and fro between, None: it stood still. `offset` is what the empty pan showed before.
    """

    value: Decimal
    unit: WeightUnit
    division: Decimal
    low: Decimal | None = None
    high: Decimal | None = None
    offset: Decimal = Decimal(0)

    @property
    def weight(self) -> Weight:
        """The reading as an exact weight."""
        return Weight(self.value * GRAMS_IN[self.unit])

    @property
    def step(self) -> Weight:
        """The scale's step as an exact weight."""
        return Weight(self.division * GRAMS_IN[self.unit])

    @property
    def words(self) -> str:
        """The reading as the scale showed it: `1.3 oz`, `1 lb 3.2 oz`."""
        if self.unit is not WeightUnit.POUND_OUNCE:
            return f"{self.value} {self.unit}"
        pounds, ounces = divmod(self.value, OUNCES_IN_POUND)
        return f"{int(pounds)} lb {ounces} oz"


def last_place(value: Decimal) -> Decimal:
    """One of the last decimal typed: 0.1 for `4.2`, 1 for `119`; the step assumed when nobody says another."""
    exponent = value.as_tuple().exponent
    return Decimal(1).scaleb(min(int(exponent), 0))
