"""What a reading means for a parcel: it fits, it is light, it is heavy, or there is not enough data."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum

from desk.learning.explanations import Cause, Explanations, PreviousWeighing, explain
from desk.learning.parcel import Expected, Parcel, ShownWeight
from desk.learning.state import LearnedState
from desk.learning.view import View, expected, view, widened


class Fit(StrEnum):
    """How a reading fits its contents."""

    OK = "ok"
    LIGHT = "light"
    HEAVY = "heavy"
    UNKNOWN = "unknown"


@dataclass(frozen=True, slots=True)
class WeightVerdict:
    """The verdict on one reading. `causes` are ranked, likeliest first; `items` belong to the first."""

    fit: Fit
    expected: Expected
    chance_right: float
    causes: tuple[Cause, ...] = ()
    items: tuple[str, ...] = ()


@dataclass(slots=True)
class Considered:
    """One reading fully considered: its view, its explanations, the verdict, and what the next one needs."""

    seen: View
    explained: Explanations
    verdict: WeightVerdict
    before: PreviousWeighing


def consider(
    state: LearnedState, parcel: Parcel, reading: ShownWeight, before: PreviousWeighing | None = None
) -> Considered:
    """Return what a reading means, without learning from it."""
    seen = view(state, parcel, reading.step_g)
    hoped = expected(seen, state, reading.step_g)
    seen = widened(seen, state, reading.grams - seen.mean)
    explained = explain(state, seen, reading, before)
    verdict = _verdict(state, hoped, explained, reading)
    after = PreviousWeighing(reading.grams, seen.mean, seen.variance, explained.evidence)
    return Considered(seen, explained, verdict, after)


def _verdict(state: LearnedState, hoped: Expected, explained: Explanations, reading: ShownWeight) -> WeightVerdict:
    right = explained.chance_right
    if not hoped.can_judge:
        return WeightVerdict(Fit.UNKNOWN, hoped, right)
    light = reading.grams < hoped.grams
    limit = state.light_odds if light else state.heavy_odds
    if explained.odds_wrong <= limit:
        return WeightVerdict(Fit.OK, hoped, right)
    causes = tuple(sorted(explained.causes, key=lambda cause: -explained.causes[cause]))
    items = explained.likeliest_items(causes[0])
    return WeightVerdict(Fit.LIGHT if light else Fit.HEAVY, hoped, right, causes, items)
