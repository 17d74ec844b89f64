"""Doubt: what a scale's step and tolerance leave open about a reading near a limit.

A scale that rounds to the nearest step shows v for anything between half a step below and half a step above, a weight
classifier, which rounds up, for anything from a whole step below (NIST Handbook 44, Appendix D, from memory); its
permitted error widens that, and so does what the empty pan showed. A display that went to and fro between two
values stands for all from below the lower to above the upper one. Source of the tolerances: NIST Handbook 44, section
2.20, Table 6, class III (from memory; three points agree with an engineering handbook of 1999 that charts it).
"""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal

from desk.domain.weight import GRAMS_IN, Shown, Weight

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


def band(shown: Shown, tolerance: Decimal, added: Weight | None = None, *, rounds_up: bool = False) -> Band:
    """The true weight's ends for a tolerance in divisions; `added` shifts both; `rounds_up`: a weight classifier.

    A tolerance of 0 asks for rounding alone, and then what the empty pan showed is left out as well.
    """
    reach = tolerance * shown.division + (abs(shown.offset) if tolerance else 0)
    below, above = (shown.division, Decimal(0)) if rounds_up else (_HALF * shown.division, _HALF * shown.division)
    low, high = _shown_between(shown)
    gram, more = GRAMS_IN[shown.unit], added.grams if added else 0
    return Band(Weight((low - below - reach) * gram + more), Weight((high + above + reach) * gram + more))


def _shown_between(shown: Shown) -> tuple[Decimal, Decimal]:
    """The least and the most the display showed."""
    all_shown = [shown.value, *(value for value in (shown.low, shown.high) if value is not None)]
    return min(all_shown), max(all_shown)


def doubt(shown: Shown, limit: Weight, tolerance: Decimal, *, rounds_up: bool = False) -> Doubt:
    """Whether a reading settles a limit, when what weighs the limit and less counts as under it."""
    by_rounding = band(shown, Decimal(0), rounds_up=rounds_up).leaves_open(limit)
    whole = band(shown, tolerance, rounds_up=rounds_up)
    is_open = whole.leaves_open(limit)
    return Doubt(
        under=not is_open and whole.high <= limit,
        over=not is_open and whole.high > limit,
        open_by_rounding=by_rounding,
        open_by_tolerance=is_open and not by_rounding,
    )
