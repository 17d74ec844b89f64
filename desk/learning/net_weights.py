"""Net weights of the lines of a customs form, in whole grams, from products' weights and the reading."""

from __future__ import annotations

from math import floor, sqrt

import numpy as np

from desk.learning.densities import Array
from desk.learning.parcel import Parcel, ShownWeight
from desk.learning.state import LearnedState
from desk.learning.view import View

LIGHTEST_LINE_G = 0.5


def net_weights(state: LearnedState, seen: View, parcel: Parcel, reading: ShownWeight) -> dict[str, int] | None:
    """Return whole grams by product, never more in total than the reading; None when a line is too uncertain.

    A line is too uncertain when its standard error exceeds 2 g and a quarter of the line.
    """
    places, counts = seen.places[:-1], seen.counts[:-1]
    means = np.maximum(state.mean[places], LIGHTEST_LINE_G)
    errors = counts * np.sqrt(np.maximum(state.covariance[places, places], 0.0))
    if np.any(errors > np.maximum(2.0, 0.25 * counts * means)) or reading.grams < len(places):
        return None
    limit = 2 * sqrt(seen.variance)
    error = min(max(reading.grams - seen.mean, -limit), limit) / seen.variance
    own = (state.settings.unit_spread * state.mean[places]) ** 2
    lines = np.maximum(counts * means + counts * (seen.pull[places] + own) * error, LIGHTEST_LINE_G)
    most = floor(reading.grams + 1e-9)
    if lines.sum() > most:
        lines *= most / lines.sum()
    return dict(zip(parcel.contents, _whole(lines, most), strict=True))


def _whole(lines: Array, most: int) -> list[int]:
    """Return whole grams, rounded by largest remainder, each at least one, at most `most` in total."""
    grams = [floor(line) for line in lines]
    target = min(most, round(float(lines.sum())))
    remainders = sorted(range(len(lines)), key=lambda at: (-(lines[at] - grams[at]), at))
    for at in remainders[: max(target - sum(grams), 0)]:
        grams[at] += 1
    for at, gram in enumerate(grams):
        if gram == 0:
            if sum(grams) >= most:
                grams[max(range(len(grams)), key=lambda other: grams[other])] -= 1
            grams[at] = 1
    return grams
