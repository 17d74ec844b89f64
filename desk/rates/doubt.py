"""Doubt: what a scale's step and tolerance leave open about a reading near a limit.

A scale that rounds to the nearest step shows v for anything between half a step below and half a step above;
its permitted error widens that. Source of the tolerances: NIST Handbook 44, section 2.20, Table 6, class III
(from memory; three points agree with an engineering handbook of 1999 that charts it).
"""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal

from desk.domain.weight import Shown, Weight

_HALF = Decimal("0.5")
_MAINTENANCE = ((500, Decimal(1)), (2000, Decimal(2)), (4000, Decimal(3)))
_OVER_ALL = Decimal(5)


@dataclass(frozen=True, slots=True)
class Doubt:
    """Exactly one is true: surely not over the limit, surely over it, or open, and by what."""

    under: bool
    over: bool
    open_by_rounding: bool
    open_by_tolerance: bool


@dataclass(frozen=True, slots=True)
class Band:
    """The ends between which the true weight lies, both exact."""

    low: Weight
    high: Weight

    def leaves_open(self, limit: Weight) -> bool:
        """True when a limit lies strictly inside: the single point at an end needs every error at its worst."""
        return self.low < limit < self.high


def tolerance_divisions(shown: Shown) -> Decimal:
    """The error a scale in use may have at that load, in divisions (Handbook 44 class III, maintenance)."""
    load = abs(shown.value) / shown.division
    return next((tolerance for most, tolerance in _MAINTENANCE if load <= most), _OVER_ALL)


def band(shown: Shown, tolerance: Decimal, added: Weight | None = None) -> Band:
    """The true weight's ends for a tolerance in divisions (0: rounding alone); `added` shifts both."""
    reach = (_HALF + tolerance) * shown.step.grams
    middle = shown.weight.grams + (added.grams if added else 0)
    return Band(Weight(middle - reach), Weight(middle + reach))


def doubt(shown: Shown, limit: Weight, tolerance: Decimal) -> Doubt:
    """Whether a reading settles a limit, when what weighs the limit and less counts as under it."""
    by_rounding = band(shown, Decimal(0)).leaves_open(limit)
    whole = band(shown, tolerance)
    is_open = whole.leaves_open(limit)
    return Doubt(
        under=not is_open and whole.high <= limit,
        over=not is_open and whole.high > limit,
        open_by_rounding=by_rounding,
        open_by_tolerance=is_open and not by_rounding,
    )
