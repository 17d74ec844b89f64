from __future__ import annotations

import gc

import pytest

from desk.intake.orders.uncollected import uncollected


def test_the_collector_rests_and_comes_back() -> None:
    with uncollected():
        assert not gc.isenabled()
    assert gc.isenabled()


def test_it_comes_back_after_a_fault_too() -> None:
    with pytest.raises(ValueError, match="x"), uncollected():
        raise ValueError("x")
    assert gc.isenabled()


def test_one_inside_another_leaves_it_at_rest() -> None:
    with uncollected():
        with uncollected():
            pass
        assert not gc.isenabled()


def test_what_was_made_counts_as_old_at_once() -> None:
    with uncollected():
        made: list[list[int]] = [[] for _ in range(2000)]
    old = {id(thing) for thing in gc.get_objects(generation=2)}
    assert sum(id(thing) in old for thing in made) == len(made)
    assert gc.get_freeze_count() == 0
