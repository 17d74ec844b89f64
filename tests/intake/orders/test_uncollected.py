from __future__ import annotations

import gc

import pytest

from desk.intake.orders.uncollected import uncollected


def test_the_collector_pauses_and_resumes() -> None:
    with uncollected():
        assert not gc.isenabled()
    assert gc.isenabled()


def test_it_is_reset_after_a_fault_too() -> None:
    with pytest.raises(ValueError, match="x"), uncollected():
        raise ValueError("x")
    assert gc.isenabled()


def test_nested_calls_leave_the_outer_pause_in_place() -> None:
    with uncollected():
        with uncollected():
            pass
        assert not gc.isenabled()


def test_a_new_environment_counts_as_outdated_at_once() -> None:
    with uncollected():
        made: list[list[int]] = [[] for _ in range(2000)]
    old = {id(thing) for thing in gc.get_objects(generation=2)}
    assert sum(id(thing) in old for thing in made) == len(made)
    assert gc.get_freeze_count() == 0
