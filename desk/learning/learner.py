"""Learn from weighings one by one: judge a reading, then learn from it as far as it is believed."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from math import exp

import numpy as np

from desk.learning.changes import WeightChange, watch
from desk.learning.explanations import PreviousWeighing
from desk.learning.net_weights import net_weights
from desk.learning.parameters import Parameters
from desk.learning.parcel import Expected, Parcel, ShownWeight
from desk.learning.state import LearnedState
from desk.learning.verdicts import Considered, Fit, WeightVerdict, consider
from desk.learning.view import TWO_SIDED_95, View, expected, view

HEAVIEST_G = 32_000.0  # 70 lb, the heaviest parcel the post takes


@dataclass(frozen=True, slots=True)
class Learned:
    """A learned weight in grams with its 95% interval, and its number of weighings."""

    grams: float
    low_g: float
    high_g: float
    weighings: int


@dataclass(slots=True)
class Learner:
    """The weights learned so far, and the previous weighing. Everything follows from the weighings in order."""

    state: LearnedState = field(default_factory=LearnedState)
    before: PreviousWeighing | None = None
    changes: list[WeightChange] = field(default_factory=list)

    @classmethod
    def begin(
        cls,
        products: Mapping[str, float | None],
        mailers: Mapping[str, float | None],
        settings: Parameters | None = None,
    ) -> Learner:
        """Return a learner that knows products and mailers by name, with any weights entered, in grams."""
        learner = cls(LearnedState(settings or Parameters()))
        for name, typed_g in mailers.items():
            learner.state.add_mailer(name, typed_g)
        for name, typed_g in products.items():
            learner.state.add_product(name, typed_g)
        return learner

    def copy(self) -> Learner:
        """Return an independent copy."""
        return Learner(self.state.copy(), self.before, list(self.changes))

    def expect(self, parcel: Parcel, step_g: float) -> Expected:
        """Return the reading to expect for a parcel before it is weighed."""
        return expected(view(self.state, parcel, step_g), self.state, step_g)

    def shared_variance(self, parts: Sequence[tuple[Parcel, float]]) -> float:
        """Return what weights that parcels share add to the variance of the sum of their readings, each times its factor.

        It is the sum of all covariances between different parcels, in square grams. Two parcels with the same product
        are off in the same direction: their errors do not cancel out.
        """
        state = self.state
        whole, own = np.zeros(len(state.mean)), 0.0
        for parcel, factor in parts:
            known = [(state.products[name], count) for name, count in parcel.contents.items() if name in state.products]
            if parcel.mailer in state.mailers:
                known.append((state.mailers[parcel.mailer], 1))
            places, counts = [place for place, _ in known], factor * np.array([float(count) for _, count in known])
            whole[places] += counts
            own += float(counts @ state.covariance[np.ix_(places, places)] @ counts)
        return float(whole @ state.covariance @ whole) - own

    def judge(self, parcel: Parcel, reading: ShownWeight) -> WeightVerdict:
        """Return what a reading means, without learning."""
        return consider(self.state, parcel, reading, self.before).verdict

    def follow(self, parcel: Parcel, reading: ShownWeight) -> WeightVerdict:
        """Return what a reading means, without learning, and remember it as the previous weighing."""
        considered = consider(self.state, parcel, reading, self.before)
        self.before = considered.before
        return considered.verdict

    def learn(self, parcel: Parcel, reading: ShownWeight, right: bool | None = None) -> WeightVerdict:
        """Judge a reading, then learn from it. `right` is what a person answered about the contents, if anything."""
        considered = consider(self.state, parcel, reading, self.before)
        self.before = considered.before
        if is_plausible(parcel, reading):
            believed = considered.explained.chance_right if right is None else float(right)
            self._update(considered, reading, believed)
        return considered.verdict

    def answer(self, fit: Fit, *, right: bool) -> None:
        """Adjust the alarm by a person's answer; `right` means that the contents were right after all.

        Each alarm settles at the share of false alarms that the settings allow.
        """
        rules, state = self.state.settings, self.state
        if fit is Fit.LIGHT:
            state.light_odds = _moved(state.light_odds, rules.light_alarms, rules.answer_rate, right, (0.02, 1.0))
        elif fit is Fit.HEAVY:
            state.heavy_odds = _moved(state.heavy_odds, rules.heavy_alarms, rules.answer_rate, right, (0.3, 100.0))

    def nets(self, parcel: Parcel, reading: ShownWeight) -> dict[str, int] | None:
        """Return the net weight of each line in whole grams; None when they are not known well enough."""
        return net_weights(self.state, view(self.state, parcel, reading.step_g), parcel, reading)

    def product(self, name: str) -> Learned | None:
        """Return what a product weighs; None for an unknown product."""
        if (asleep := self.state.asleep.get(name)) is not None:
            return _learned(asleep.mean, asleep.variance, asleep.uses)
        place = self.state.products.get(name)
        return None if place is None else self._at(place)

    def rests(self, name: str) -> bool:
        """Return True for a product outside the matrix: too many others were used since."""
        return name in self.state.asleep

    def mailer(self, name: str) -> Learned | None:
        """Return what a mailer weighs with its usual packing; None for an unknown mailer."""
        place = self.state.mailers.get(name)
        return None if place is None else self._at(place)

    def _at(self, place: int) -> Learned:
        state = self.state
        return _learned(float(state.mean[place]), float(state.covariance[place, place]), int(state.uses[place]))

    def _update(self, considered: Considered, reading: ShownWeight, believed: float) -> None:
        state, seen = self.state, considered.seen
        error = reading.grams - seen.mean
        _walk(state, seen)
        gain = seen.pull / seen.variance
        state.mean += believed * error * gain
        state.covariance += np.outer(gain, gain * (believed * (1 - believed) * error**2 - believed * seen.variance))
        _learn_packing(state, seen, error, believed)
        change = watch(state, seen, error)
        if change is not None:
            self.changes.append(change)
        state.uses[seen.places] += 1
        state.units[seen.places[:-1]] += seen.counts[:-1]
        state.weighings += 1
        memory = state.settings.trust_memory
        state.trust = memory * state.trust + (1 - memory) * believed
        state.last_used[seen.places] = state.weighings


def is_plausible(parcel: Parcel, reading: ShownWeight) -> bool:
    """Return whether a weighing may teach anything: it has contents, and a weight a parcel can have."""
    return bool(parcel.contents) and 0 < reading.grams <= HEAVIEST_G and all(n > 0 for n in parcel.contents.values())


def _walk(state: LearnedState, seen: View) -> None:
    """Apply the drift since the last weighing to the covariance."""
    diagonal = np.einsum("ii->i", state.covariance)
    diagonal += seen.walk
    mailers = list(state.mailers.values())
    state.covariance[np.ix_(mailers, mailers)] += state.settings.common_walk_g**2


def _learn_packing(state: LearnedState, seen: View, error: float, believed: float) -> None:
    rules, mailer = state.settings, seen.mailer
    spread, count = state.packing_var[mailer], state.packing_count[mailer]
    own = (error * seen.noise / seen.variance) ** 2 + seen.doubt * seen.noise / seen.variance
    sample = max(0.25, own - (seen.noise - spread))
    count *= rules.packing_memory
    state.packing_var[mailer] = (count * spread + believed * sample) / (count + believed)
    state.packing_count[mailer] = count + believed


def _moved(odds: float, alarms: float, rate: float, right: bool, limits: tuple[float, float]) -> float:
    step = rate * (1 - alarms) if right else -rate * alarms
    return min(max(odds * exp(step), limits[0]), limits[1])


def _learned(mean: float, variance: float, uses: int) -> Learned:
    reach = TWO_SIDED_95 * max(variance, 0.0) ** 0.5
    return Learned(mean, mean - reach, mean + reach, uses)
