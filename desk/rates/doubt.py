"""Doubt: the uncertainty of a reading near a limit, from a scale's resolution and tolerance.

A scale that rounds to the nearest step shows v for anything from half a step below to half a step above. A weight
classifier rounds up, so it shows v for anything from a whole step below (NIST Handbook 44, Appendix D, from memory).
The scale's permitted error widens that range, and so does a reading on the empty pan. A display that alternated between
two values counts as the range from the lower to the upper. Source of the tolerances: NIST Handbook 44, section 2.20,
Table 6, class III (from memory; three points agree with a chart in an engineering handbook of 1999).
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
    """Whether a reading is over a limit. Exactly one field is true: under, over, or left open by one of two causes."""

    under: bool
    over: bool
    open_by_rounding: bool
    open_by_tolerance: bool


@dataclass(frozen=True, slots=True)
class Band:
    """The exact ends of the range that holds the true weight."""

    low: Weight
    high: Weight

    def leaves_open(self, limit: Weight) -> bool:
        """Return True when a limit lies strictly inside; reaching an end would need every error at its worst."""
        return self.low < limit < self.high


def tolerance_divisions(shown: Shown) -> Decimal:
    """Return the error, in divisions, that a scale in use may have at that load (Handbook 44, class III)."""
    load = abs(shown.value) / shown.division
    return next((tolerance for most, tolerance in _MAINTENANCE if load <= most), _OVER_ALL)


def band(shown: Shown, tolerance: Decimal, added: Weight | None = None, *, rounds_up: bool = False) -> Band:
    """Return the range of the true weight for a tolerance in divisions.

    `added` shifts both ends. `rounds_up` is for a weight classifier. With a tolerance of 0 only rounding counts, and
    the empty-pan reading is ignored too.
    """
    reach = tolerance * shown.division + (abs(shown.offset) if tolerance else 0)
    below, above = (shown.division, Decimal(0)) if rounds_up else (_HALF * shown.division, _HALF * shown.division)
    low, high = _shown_between(shown)
    gram, more = GRAMS_IN[shown.unit], added.grams if added else 0
    return Band(Weight((low - below - reach) * gram + more), Weight((high + above + reach) * gram + more))


def _shown_between(shown: Shown) -> tuple[Decimal, Decimal]:
    """Return the least and the most the display showed."""
    all_shown = [shown.value, *(value for value in (shown.low, shown.high) if value is not None)]
    return min(all_shown), max(all_shown)


def doubt(shown: Shown, limit: Weight, tolerance: Decimal, *, rounds_up: bool = False) -> Doubt:
    """Return whether a reading settles a limit; a weight exactly at the limit counts as under it."""
    by_rounding = band(shown, Decimal(0), rounds_up=rounds_up).leaves_open(limit)
    whole = band(shown, tolerance, rounds_up=rounds_up)
    is_open = whole.leaves_open(limit)
    return Doubt(
        under=not is_open and whole.high <= limit,
        over=not is_open and whole.high > limit,
        open_by_rounding=by_rounding,
        open_by_tolerance=is_open and not by_rounding,
    )
