"""Every way a reading can arise, with its chance: contents right, one missing, one extra, swapped, and so on."""

from __future__ import annotations

from dataclasses import dataclass, field
from enum import StrEnum

import numpy as np

from desk.learning.densities import Array, normal, normal_tail, normals
from desk.learning.parameters import Mishaps
from desk.learning.parcel import ShownWeight
from desk.learning.state import LearnedState
from desk.learning.typing_slips import slips
from desk.learning.view import View

LIGHTEST_G = 0.3  # no item that can be missing weighs less
PADDING_G = (5.0, 60.0)
ANYTHING_G = 1000.0


class Cause(StrEnum):
    """Why a reading does not fit its contents."""

    MISSING = "missing"
    EXTRA = "extra"
    PADDING = "reuse"
    MAILER = "mailer"
    SWAPPED = "swap"
    REPEATED = "repeat"
    TOGETHER = "two"
    TYPING = "typo"
    ANYTHING = "junk"


@dataclass(frozen=True, slots=True)
class PreviousWeighing:
    """What we keep of the previous weighing, to notice two readings that were swapped."""

    grams: float
    mean: float
    variance: float
    evidence: float


@dataclass(slots=True)
class Explanations:
    """The weight of each explanation. `right` is for "the contents are right"; `items` are by name within a cause."""

    right: float
    causes: dict[Cause, float] = field(default_factory=dict)
    items: dict[Cause, dict[str, float]] = field(default_factory=dict)

    @property
    def evidence(self) -> float:
        """Return the chance of this reading under all explanations together."""
        return self.right + sum(self.causes.values())

    @property
    def chance_right(self) -> float:
        """Return the chance that the contents are right, from 0 to 1."""
        evidence = self.evidence
        return self.right / evidence if evidence > 0 else 0.0

    @property
    def odds_wrong(self) -> float:
        """Return the odds that something is wrong."""
        return sum(self.causes.values()) / self.right if self.right > 0 else float("inf")

    def likeliest_items(self, cause: Cause, most: int = 3) -> tuple[str, ...]:
        """Return the likeliest item of a cause, or up to `most` when the best has less than half of the chance."""
        chances = self.items.get(cause, {})
        ranked = sorted(chances, key=lambda name: (-chances[name], name))
        if not ranked:
            return ()
        return tuple(ranked[:1] if chances[ranked[0]] * 2 >= sum(chances.values()) else ranked[:most])


def explain(
    state: LearnedState,
    seen: View,
    reading: ShownWeight,
    before: PreviousWeighing | None,
    mishaps: Mishaps | None = None,
) -> Explanations:
    """Return every explanation of a reading with its weight: prior chance times likelihood of this scale step."""
    chance = mishaps or Mishaps()
    error, step = reading.grams - seen.mean, reading.step_g
    explanations = Explanations(chance.contents_right * step * normal(error, seen.variance))
    _missing(explanations, state, seen, error, step, chance.missing)
    _extra(explanations, state, seen, error, step, chance.extra)
    _mailer(explanations, state, seen, error, step, chance.mailer)
    low, high = PADDING_G
    inside = normal_tail(low - error, seen.variance) - normal_tail(high - error, seen.variance)
    explanations.causes[Cause.PADDING] = chance.padding * step * inside / (high - low)
    if before is not None:
        _neighbors(explanations, seen, reading, before, chance)
    typed = slips(reading)
    if len(typed):
        likelihood = float(normals(typed - seen.mean, seen.variance).mean())
        explanations.causes[Cause.TYPING] = chance.typing * step * likelihood
    explanations.causes[Cause.ANYTHING] = chance.anything * step / ANYTHING_G
    return explanations


def _missing(
    explanations: Explanations, state: LearnedState, seen: View, error: float, step: float, chance: float
) -> None:
    """Add the chance that one ordered item is missing; it is never the only one."""
    counts, places = seen.counts[:-1], seen.places[:-1]
    units = float(counts.sum())
    if units < 2:
        return
    weights = np.maximum(state.mean[places], LIGHTEST_G)
    variance = np.maximum(seen.variance - 2 * seen.pull[places] + seen.diagonal[places], seen.noise)
    terms = chance * (counts / units) * step * normals(error + weights, variance)
    _by_name(explanations, Cause.MISSING, state, places, terms)


def _extra(
    explanations: Explanations, state: LearnedState, seen: View, error: float, step: float, chance: float
) -> None:
    """Add the chance that one extra product is in the parcel."""
    places = [place for place in state.products.values() if state.units[place] > 0]
    if not places:
        return
    share = state.units[places] / state.units[places].sum()
    weights = np.maximum(state.mean[places], LIGHTEST_G)
    variance = np.maximum(seen.variance + 2 * seen.pull[places] + seen.diagonal[places], seen.noise)
    terms = chance * share * step * normals(error - weights, variance)
    _by_name(explanations, Cause.EXTRA, state, places, terms)


def _mailer(
    explanations: Explanations, state: LearnedState, seen: View, error: float, step: float, chance: float
) -> None:
    """Add the chance that the parcel is in another mailer than recorded."""
    here = seen.mailer
    places = [place for place in state.mailers.values() if place != here]
    if not places:
        return
    covariance = state.covariance
    shift = error - state.mean[places] + state.mean[here]
    variance = seen.variance + 2 * (seen.pull[places] - seen.pull[here])
    variance = variance + seen.diagonal[places] + seen.diagonal[here] - 2 * covariance[places, here]
    terms = chance / len(places) * step * normals(shift, np.maximum(variance, seen.noise))
    names = {place: name for name, place in state.mailers.items()}
    explanations.causes[Cause.MAILER] = float(terms.sum())
    explanations.items[Cause.MAILER] = {names[place]: float(term) for place, term in zip(places, terms, strict=True)}


def _neighbors(
    explanations: Explanations, seen: View, reading: ShownWeight, before: PreviousWeighing, chance: Mishaps
) -> None:
    """Add the chance that the reading belongs to the previous parcel, or to both."""
    step = reading.step_g
    if before.evidence > 0:
        other = normal(reading.grams - before.mean, before.variance)
        swapped = step * normal(before.grams - seen.mean, seen.variance) * step * other / before.evidence
        explanations.causes[Cause.SWAPPED] = chance.swapped * swapped
    same = abs(reading.grams - before.grams) < step / 2
    alike = (before.mean - seen.mean) ** 2 <= seen.variance  # two of a kind weigh the same, so that proves nothing
    explanations.causes[Cause.REPEATED] = chance.repeated if same and not alike else 0.0
    both = reading.grams - seen.mean - before.grams
    explanations.causes[Cause.TOGETHER] = chance.together * step * normal(both, seen.variance + 4.0)


def _by_name(explanations: Explanations, cause: Cause, state: LearnedState, places: list[int], terms: Array) -> None:
    wanted = set(places)
    names = {place: name for name, place in state.products.items() if place in wanted}
    explanations.causes[cause] = float(terms.sum())
    explanations.items[cause] = {names[place]: float(term) for place, term in zip(places, terms, strict=True)}
