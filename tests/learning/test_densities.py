"""The densities and tails equal those of the standard library's normal distribution."""

from __future__ import annotations

from statistics import NormalDist

import numpy as np
import pytest

from desk.learning.densities import normal, normal_tail, normals

POINTS = [(0.0, 1.0), (1.0, 1.0), (-2.5, 0.25), (3.0, 9.0), (40.0, 100.0)]


@pytest.mark.parametrize(("distance", "variance"), POINTS)
def test_the_density_and_tail_are_those_of_the_normal_distribution(distance, variance):
    outside = NormalDist(0, variance**0.5)
    assert normal(distance, variance) == pytest.approx(outside.pdf(distance), rel=1e-12)
    assert normal_tail(distance, variance) == pytest.approx(1 - outside.cdf(distance), rel=1e-9)


def test_arrays_give_the_same_densities_as_single_numbers():
    distances, variances = map(np.array, zip(*POINTS, strict=True))
    assert normals(distances, variances) == pytest.approx([normal(*point) for point in POINTS], rel=1e-12)


def test_a_density_too_small_for_a_number_is_zero():
    assert normal(1000.0, 1.0) == 0.0
