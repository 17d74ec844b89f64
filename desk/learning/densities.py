"""Densities and tails of the normal distribution, for plain numbers and for arrays."""

from __future__ import annotations

from math import erfc, exp, pi, sqrt

import numpy as np
from numpy.typing import NDArray

Array = NDArray[np.float64]


def normal(distance: float, variance: float) -> float:
    """Return the normal density at a distance from the mean."""
    exponent = -0.5 * distance * distance / variance
    return exp(exponent) / sqrt(2 * pi * variance) if exponent > -700 else 0.0


def normals(distance: Array, variance: Array | float) -> Array:
    """Return the normal density at each distance from the mean."""
    density: Array = np.exp(-0.5 * distance * distance / variance) / np.sqrt(2 * pi * np.asarray(variance))
    return density


def normal_tail(distance: float, variance: float) -> float:
    """Return the chance of being more than `distance` above the mean."""
    return 0.5 * erfc(distance / sqrt(2 * variance))
