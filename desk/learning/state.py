"""What has been learned: the weights of products and mailers with their covariance, and counts.

All weights are in grams, variances in square grams. Products and mailers share one vector, in the order they were
added; a mailer's entry is its empty weight with its usual tissue and tape.
"""

from __future__ import annotations

from dataclasses import dataclass, field, replace

import numpy as np

from desk.learning.densities import Array
from desk.learning.parameters import Parameters


@dataclass(frozen=True, slots=True)
class SleepingProduct:
    """A product outside the matrix until it is used again."""

    mean: float
    variance: float
    uses: int
    typed: bool


@dataclass(slots=True)
class LearnedState:
    """Means and covariance by position; names to positions; and counts."""

    settings: Parameters = field(default_factory=Parameters)
    mean: Array = field(default_factory=lambda: np.zeros(0))
    covariance: Array = field(default_factory=lambda: np.zeros((0, 0)))
    products: dict[str, int] = field(default_factory=dict)
    mailers: dict[str, int] = field(default_factory=dict)
    uses: Array = field(default_factory=lambda: np.zeros(0))
    units: Array = field(default_factory=lambda: np.zeros(0))  # how many were packed, for each product's share
    last_used: Array = field(default_factory=lambda: np.zeros(0))
    typed: list[bool] = field(default_factory=list)
    packing_var: dict[int, float] = field(default_factory=dict)
    packing_count: dict[int, float] = field(default_factory=dict)
    pulls: dict[int, list[tuple[float, float]]] = field(default_factory=dict)  # for the change watch
    asleep: dict[str, SleepingProduct] = field(default_factory=dict)
    weighings: int = 0
    trust: float = 1.0
    light_odds: float = 0.0
    heavy_odds: float = 0.0

    def __post_init__(self) -> None:
        """Start with the alarms of the settings."""
        self.light_odds = self.light_odds or self.settings.light_odds
        self.heavy_odds = self.heavy_odds or self.settings.heavy_odds

    def copy(self) -> LearnedState:
        """Return an independent copy."""
        arrays = (self.mean, self.covariance, self.uses, self.units, self.last_used)
        mean, covariance, uses, units, last_used = (array.copy() for array in arrays)
        return replace(
            self,
            mean=mean,
            covariance=covariance,
            uses=uses,
            units=units,
            last_used=last_used,
            products=dict(self.products),
            mailers=dict(self.mailers),
            typed=list(self.typed),
            packing_var=dict(self.packing_var),
            packing_count=dict(self.packing_count),
            pulls={place: list(pulls) for place, pulls in self.pulls.items()},
            asleep=dict(self.asleep),
        )

    def add_product(self, name: str, typed_g: float | None = None) -> int:
        """Add a product with an entered unit weight or the usual guess. Return its position."""
        known = self.products.get(name)
        if known is not None:
            return known
        self._make_room()
        sleeper = self.asleep.pop(name, None)
        if sleeper is not None:
            place = self._append(sleeper.mean, sleeper.variance, typed=sleeper.typed, uses=sleeper.uses)
        elif typed_g is not None and typed_g > 0:
            spread = max(self.settings.typed_unit_g, self.settings.typed_unit_share * typed_g)
            place = self._append(typed_g, spread**2, typed=True)
        else:
            guess = self.settings.product_prior_g
            place = self._append(guess, (self.settings.product_prior_share * guess) ** 2, typed=False)
        self.products[name] = place
        return place

    def add_mailer(self, name: str, typed_g: float | None = None) -> int:
        """Add a mailer with an entered empty weight or the usual guess. Return its position."""
        known = self.mailers.get(name)
        if known is not None:
            return known
        rules = self.settings
        if typed_g is not None and typed_g >= 0:
            mean, variance = typed_g + rules.typed_mailer_extra_g, rules.typed_mailer_sd_g**2
        else:
            mean, variance = rules.mailer_prior_g, rules.mailer_prior_sd_g**2
        others = list(self.mailers.values())
        place = self._append(mean, variance + rules.mailer_shared_var, typed=typed_g is not None)
        self.covariance[place, others] = self.covariance[others, place] = rules.mailer_shared_var
        self.mailers[name] = place
        self.packing_var[place], self.packing_count[place] = rules.packing_var, rules.packing_count
        return place

    def guess_unseen(self, places: list[int]) -> None:
        """Set the prior of products never weighed or entered, from what is known so far."""
        fresh = [place for place in places if not self.uses[place] and not self.typed[place]]
        if not fresh:
            return
        rules = self.settings
        seen = [place for place in self.products.values() if self.uses[place] >= 2]
        guess = rules.product_prior_g
        if len(seen) >= 5:
            guess = float(np.clip(self.mean[seen].mean(), rules.product_prior_low_g, rules.product_prior_high_g))
        for place in fresh:
            self.mean[place] = guess
            self.covariance[place, place] = (rules.product_prior_share * guess) ** 2

    def _append(self, mean: float, variance: float, *, typed: bool, uses: int = 0) -> int:
        place = len(self.mean)
        self.mean = np.append(self.mean, mean)
        self.covariance = np.pad(self.covariance, (0, 1))
        self.covariance[place, place] = variance
        self.uses, self.units = np.append(self.uses, uses), np.append(self.units, 0.0)
        self.last_used = np.append(self.last_used, self.weighings)
        self.typed.append(typed)
        return place

    def _make_room(self) -> None:
        """Put the least recently used product to sleep when the matrix is full."""
        if len(self.products) < self.settings.most_active:
            return
        name = min(self.products, key=lambda product: (self.last_used[self.products[product]], product))
        place = self.products[name]
        self.asleep[name] = SleepingProduct(
            float(self.mean[place]), float(self.covariance[place, place]), int(self.uses[place]), self.typed[place]
        )
        self._remove(place)

    def _remove(self, place: int) -> None:
        keep = np.arange(len(self.mean)) != place
        self.mean, self.covariance = self.mean[keep], self.covariance[np.ix_(keep, keep)]
        self.uses, self.units, self.last_used = self.uses[keep], self.units[keep], self.last_used[keep]
        del self.typed[place]
        self.products = {name: at - (at > place) for name, at in self.products.items() if at != place}
        self.mailers = {name: at - (at > place) for name, at in self.mailers.items()}
        self.packing_var = {at - (at > place): value for at, value in self.packing_var.items()}
        self.packing_count = {at - (at > place): value for at, value in self.packing_count.items()}
        self.pulls = {at - (at > place): pulls for at, pulls in self.pulls.items() if at != place}
