"""Length and size: exact millimeters. One inch is 25.4 mm by definition (NIST Handbook 44, Appendix C)."""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal
from enum import StrEnum

from desk.domain.exact import exact

INCH_MM = Decimal("25.4")


class LengthUnit(StrEnum):
    """A unit for sizes; the value is its spelling in files."""

    INCH = "in"
    MILLIMETER = "mm"


MM_IN = {LengthUnit.INCH: INCH_MM, LengthUnit.MILLIMETER: Decimal(1)}


@dataclass(frozen=True, slots=True, order=True)
class Length:
    """An exact length in millimeters."""

    mm: Decimal

    @classmethod
    def of(cls, value: Decimal | str | int, unit: LengthUnit | str) -> Length:
        """Return the length of a number in a unit. Raises ValueError for an unknown unit or an invalid number."""
        return cls(exact(value) * MM_IN[LengthUnit(unit)])

    def __add__(self, other: Length) -> Length:
        return Length(self.mm + other.mm)

    def __mul__(self, count: int) -> Length:
        return Length(self.mm * count)

    def inches(self) -> Decimal:
        """Return the number of inches, to 28 digits; for display, never for comparing limits."""
        return self.mm / INCH_MM


def inches(value: str | int) -> Length:
    """Return a length in inches, for limits as the standards write them: `inches("11.5")`."""
    return Length.of(value, LengthUnit.INCH)


@dataclass(frozen=True, slots=True)
class Size:
    """The outside of a piece. `length` is the side along the address, as typed; shape rules sort the sides."""

    length: Length
    width: Length
    thickness: Length

    @classmethod
    def of(cls, length: str, width: str, thickness: str, unit: LengthUnit | str) -> Size:
        """Return the size of three numbers in one unit."""
        return cls(Length.of(length, unit), Length.of(width, unit), Length.of(thickness, unit))

    def sides(self) -> tuple[Length, Length, Length]:
        """Return the three sides, longest first."""
        longest, middle, shortest = sorted((self.length, self.width, self.thickness), reverse=True)
        return longest, middle, shortest

    def cubic_inches(self) -> Decimal:
        """Return the volume of the enclosing box in cubic inches."""
        return self.length.inches() * self.width.inches() * self.thickness.inches()
