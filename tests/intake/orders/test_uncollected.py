from __future__ import annotations

import gc

import pytest

from desk.intake.orders.uncollected import uncollected


def test_garbage_collection_pauses_and_resumes() -> None:
    with uncollected():
        assert not gc.isenabled()
    assert gc.isenabled()


def test_garbage_collection_resumes_after_an_error() -> None:
    with pytest.raises(ValueError, match="x"), uncollected():
        raise ValueError("x")
    assert gc.isenabled()


def test_an_inner_pause_does_not_end_the_outer_one() -> None:
    with uncollected():
        with uncollected():
            pass
        assert not gc.isenabled()


def test_objects_created_meanwhile_move_to_the_oldest_generation() -> None:
    with uncollected():
        made: list[list[int]] = [[] for _ in range(2000)]
    old = {id(thing) for thing in gc.get_objects(generation=2)}
    assert sum(id(thing) in old for thing in made) == len(made)
    assert gc.get_freeze_count() == 0
