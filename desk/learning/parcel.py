"""What learning uses of one weighing: the contents, the mailer, and the reading."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from desk.learning.densities import normal_tail


@dataclass(frozen=True, slots=True)
class Parcel:
    """Contents (product name to count, all above 0) and mailer of one parcel."""

    contents: Mapping[str, int]
    mailer: str

    @property
    def units(self) -> int:
        """Return how many items it has."""
        return sum(self.contents.values())


@dataclass(frozen=True, slots=True)
class ShownWeight:
    """What the scale showed: in grams, with its resolution in grams, the digits as typed, and grams per unit shown."""

    grams: float
    step_g: float
    digits: str = ""
    unit_g: float = 1.0


@dataclass(frozen=True, slots=True)
class Expected:
    """The reading to expect: mean, 95% interval, and the variances behind it (square grams).

    `doubt` is the part from uncertain weights; `can_judge` is False until enough was weighed.
    """

    grams: float
    low_g: float
    high_g: float
    variance: float
    doubt: float
    step_g: float
    can_judge: bool

    def chance_over(self, limit_g: float) -> float:
        """Return the chance that the parcel itself weighs more than a limit in grams, from 0 to 1."""
        return normal_tail(limit_g - self.grams, max(self.variance - self.step_g**2 / 12, 1e-9))
