"""One parcel in terms of what was learned: the reading to expect, and its covariance with every weight."""

from __future__ import annotations

from dataclasses import dataclass
from math import sqrt

import numpy as np

from desk.learning.densities import Array
from desk.learning.parcel import Expected, Parcel
from desk.learning.state import LearnedState

TWO_SIDED_95 = 1.959964  # the 97.5% point of the normal distribution


@dataclass(slots=True)
class View:
    """Positions and counts of a parcel's parts, and the moments of its reading. Grams and square grams.

    `pull` is the covariance of every weight with the reading, `diagonal` every weight's own variance; both include
    the drift since the last weighing. `noise` is packing, unit spread and the scale's step.
    """

    places: list[int]
    counts: Array
    mailer: int
    mean: float
    pull: Array
    diagonal: Array
    doubt: float
    noise: float
    walk: Array

    @property
    def variance(self) -> float:
        """Return the variance of the reading."""
        return self.doubt + self.noise


def view(state: LearnedState, parcel: Parcel, step_g: float) -> View:
    """Return how a parcel's reading relates to what is known. Adds new products and mailers."""
    names = list(parcel.contents)
    for name in names:
        state.add_product(name)
    products = [state.products[name] for name in names]
    mailer = state.add_mailer(parcel.mailer)
    state.guess_unseen(products)
    places = [*products, mailer]
    counts = np.array([*(float(parcel.contents[name]) for name in names), 1.0])
    rules, mean = state.settings, state.mean
    units = mean[products]
    walk = np.zeros(len(mean))
    walk[products] = (rules.product_walk * units) ** 2 + rules.product_walk_g**2
    walk[mailer] += (rules.mailer_walk * mean[mailer]) ** 2
    common = rules.common_walk_g**2
    mailers = list(state.mailers.values())
    pull = state.covariance[:, places] @ counts
    pull[places] += walk[places] * counts
    pull[mailers] += common
    diagonal = state.covariance.diagonal() + walk
    diagonal[mailers] += common
    noise = state.packing_var[mailer] + float(counts[:-1] @ (rules.unit_spread * units) ** 2) + step_g**2 / 12
    return View(
        places=places,
        counts=counts,
        mailer=mailer,
        mean=float(mean[places] @ counts),
        pull=pull,
        diagonal=diagonal,
        doubt=max(float(pull[places] @ counts), 0.0),
        noise=noise,
        walk=walk,
    )


def widened(seen: View, state: LearnedState, error: float) -> View:
    """Return the view with new products made less certain when the reading is far off.

    Otherwise a heavy product with a light guess looks like a mishap, and is never learned.
    """
    fresh = [at for at, place in enumerate(seen.places[:-1]) if not state.uses[place]]
    if not fresh or error * error <= seen.variance:
        return seen
    for at in fresh:
        place, count = seen.places[at], float(seen.counts[at])
        more = error * error / (len(fresh) * count * count)
        seen.walk[place] += more
        seen.diagonal[place] += more
        seen.pull[place] += more * count
    seen.doubt = float(seen.pull[seen.places] @ seen.counts)
    return seen


def expected(seen: View, state: LearnedState, step_g: float) -> Expected:
    """Return the reading to expect with its 95% interval, and whether it may be judged at all."""
    reach = TWO_SIDED_95 * sqrt(seen.variance)
    rules = state.settings
    often = bool(np.all(state.uses[seen.places] >= rules.fewest_uses))
    return Expected(
        grams=seen.mean,
        low_g=seen.mean - reach,
        high_g=seen.mean + reach,
        variance=seen.variance,
        doubt=seen.doubt,
        step_g=step_g,
        can_judge=often and seen.doubt <= rules.widest_doubt * seen.noise and state.trust >= rules.least_trust,
    )
