"""The numbers of the learning method: spreads, walks, priors and odds, in grams and as fractions."""

from __future__ import annotations

from dataclasses import dataclass

METHOD_VERSION = 2  # a stored state of another version is discarded and learned again


@dataclass(frozen=True, slots=True)
class Parameters:
    """Spreads and priors of the method. Weights in grams; chances and odds without a unit.

    Source: tuned on simulated shops; common practice, no source.
    """

    unit_spread: float = 0.015  # one copy differs from the next by this share of its weight
    product_walk: float = 0.003  # a product drifts by this share at each use ...
    product_walk_g: float = 0.02  # ... and at least by this much
    mailer_walk: float = 0.002
    common_walk_g: float = 0.1  # all mailers together, at each weighing, such as a card added to every parcel
    packing_var: float = 14.0  # spread of tissue and tape at the start, in square grams
    packing_count: float = 8.0  # how many weighings that first guess counts for
    packing_memory: float = 0.998
    typed_unit_share: float = 0.20  # an entered unit weight may be off by this share ...
    typed_unit_g: float = 1.0  # ... and at least by this much
    typed_mailer_extra_g: float = 8.0  # usual tissue and tape added to an empty mailer
    typed_mailer_sd_g: float = 3.0
    product_prior_g: float = 25.0
    product_prior_share: float = 1.5
    product_prior_low_g: float = 4.0
    product_prior_high_g: float = 150.0
    mailer_prior_g: float = 35.0
    mailer_prior_sd_g: float = 30.0
    mailer_shared_var: float = 36.0  # how much one mailer's packing predicts another's
    fewest_uses: int = 3  # weighings of each product and mailer before a verdict
    widest_doubt: float = 4.0  # no verdict when weights are this many times less certain than packing itself
    trust_memory: float = 0.98  # memory for the share of recent weighings that made sense; about the last fifty count
    least_trust: float = 0.72  # below this nothing is judged, because contents and readings do not match
    light_odds: float = 0.05
    heavy_odds: float = 4.0
    light_alarms: float = 0.0065  # share of correct parcels that may be called light, and heavy
    heavy_alarms: float = 0.0035
    answer_rate: float = 0.1  # how far one answer moves an alarm
    change_sigmas: float = 5.0
    change_shortest: int = 3
    change_longest: int = 24
    most_active: int = 300  # products in the matrix; the least recently used ones beyond that sleep


@dataclass(frozen=True, slots=True)
class Mishaps:
    """How often each mishap happens, as a chance per parcel. They need not be exact: they only shift the alarm."""

    missing: float = 0.012
    extra: float = 0.005
    padding: float = 0.03  # extra packaging, 5 to 60 g
    mailer: float = 0.007
    swapped: float = 0.006
    repeated: float = 0.002
    together: float = 0.001
    typing: float = 0.002
    anything: float = 0.002

    @property
    def contents_right(self) -> float:
        """Return the chance that nothing went wrong."""
        listed = (self.missing, self.extra, self.padding, self.mailer, self.swapped, self.repeated, self.together)
        return 1.0 - sum(listed) - self.typing - self.anything
