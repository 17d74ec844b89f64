"""Flat or table, with the arithmetic written out, and against numpy's mean."""

from __future__ import annotations

import random

import numpy as np
import pytest

from desk.costs.charge_table import FEWEST_IN_ROW, WORTH_A_TABLE, flat_or_table
from desk.domain.money import Money


def given(**kinds: list[int]):
    return flat_or_table((kind, Money(cost)) for kind, costs in kinds.items() for cost in costs)


def test_one_flat_charge_is_far_off_for_letters_and_parcels() -> None:
    ways = given(letter=[100, 120], parcel=[700, 900])
    # mean 455; off it by 355, 335, 245 and 445: 1380 / 4 = 345. Means 110 and 800: off by 10, 10, 100, 100: 55
    assert (ways.flat, ways.flat_off, ways.table_off) == (Money(455), Money(345), Money(55))
    assert [(row.group, row.break_even) for row in ways.rows] == [("letter", Money(110)), ("parcel", Money(800))]
    assert ways.table_is_better
    assert ways.is_thin


@pytest.mark.parametrize(("apart", "better"), [(2 * WORTH_A_TABLE - 2, False), (2 * WORTH_A_TABLE, True)])
def test_a_table_is_advised_only_when_it_is_enough_closer(apart: int, better: bool) -> None:
    """Two kinds that each cost one sum: the table is exact, and the flat charge is off by half of what is between."""
    ways = given(near=[500] * FEWEST_IN_ROW, far=[500 + apart] * FEWEST_IN_ROW)
    assert ways.flat_off.minor == apart // 2
    assert ways.table_is_better is better
    assert not ways.is_thin


def test_a_single_kind_of_package_needs_no_table() -> None:
    ways = given(letter=[100, 900])
    assert ways.flat_off == ways.table_off
    assert not ways.table_is_better


@pytest.mark.parametrize("seed", range(5))
def test_average_distances_equal_those_from_numpy(seed: int) -> None:
    chance = random.Random(seed)
    kinds = {name: [chance.randint(80, 2500) for _ in range(chance.randint(1, 40))] for name in ("a", "b", "c")}
    ways = given(**kinds)
    whole = np.concatenate([np.array(costs) for costs in kinds.values()])
    assert ways.flat_off.minor == round(float(np.mean(np.abs(whole - np.ceil(whole.mean())))))
    apart = [np.abs(np.array(costs) - np.ceil(np.mean(costs))) for costs in kinds.values()]
    assert ways.table_off.minor == round(float(np.mean(np.concatenate(apart))))


def test_no_orders_and_two_currencies_are_refused() -> None:
    with pytest.raises(ValueError, match="one currency"):
        flat_or_table([])
    with pytest.raises(ValueError, match="one currency"):
        flat_or_table([("a", Money(1)), ("b", Money(1, "EUR"))])
