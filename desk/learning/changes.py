"""The change watch: has a product or mailer become heavier or lighter, by a reprint or another make?"""

from __future__ import annotations

from dataclasses import dataclass
from math import sqrt

from desk.learning.state import LearnedState
from desk.learning.view import View


@dataclass(frozen=True, slots=True)
class WeightChange:
    """A product or mailer seems to weigh `grams` more (less when negative) for about `weighings` weighings."""

    name: str
    grams: float
    weighings: int


def watch(state: LearnedState, seen: View, error: float) -> WeightChange | None:
    """Record one reading's error for each part of the parcel. Return the part that has clearly changed, if any.

    The error is limited to three standard deviations but never ignored, or a reprint would be ignored forever.
    """
    rules, variance = state.settings, seen.variance
    limit = 3 * sqrt(variance)
    pull = min(max(error, -limit), limit) / variance
    best, where = (0.0, 0.0, 0), -1
    for place, count in zip(seen.places, seen.counts.tolist(), strict=True):
        recent = state.pulls.setdefault(place, [])
        recent.append((count * pull, count * count / variance))
        del recent[: -rules.change_longest]
        change = _strongest(recent, rules.change_shortest)
        if change[0] > best[0]:
            best, where = change, place
    if best[0] <= rules.change_sigmas:
        return None
    _, shift, length = best
    state.covariance[where, where] += 2 * shift * shift
    for place in seen.places:
        state.pulls[place] = []
    return WeightChange(_name_of(state, where), shift, length)


def _strongest(recent: list[tuple[float, float]], shortest: int) -> tuple[float, float, int]:
    """Return the largest |z| over the last readings, its shift in grams, and its number of readings."""
    best, total, weight = (0.0, 0.0, 0), 0.0, 0.0
    for length, (pull, share) in enumerate(reversed(recent), 1):
        total, weight = total + pull, weight + share
        if length >= shortest and weight > 0:
            strength = abs(total) / sqrt(weight)
            if strength > best[0]:
                best = (strength, total / weight, length)
    return best


def _name_of(state: LearnedState, place: int) -> str:
    return next(name for names in (state.products, state.mailers) for name, at in names.items() if at == place)
