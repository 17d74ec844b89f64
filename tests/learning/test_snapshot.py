"""A snapshot restores the same learner, or nothing."""

from __future__ import annotations

import pytest

from desk.learning.parameters import Parameters
from desk.learning.snapshot import from_bytes, to_bytes
from tests.learning.test_learner import history, parcel, reading, taught


def test_a_learner_restored_from_its_snapshot_gives_equal_results():
    learner = taught(120)
    restored = from_bytes(to_bytes(learner), Parameters())
    assert restored is not None
    for item, shown in history(40, noise=1.0):
        assert restored.learn(item, shown) == learner.learn(item, shown)
    assert (restored.state.mean == learner.state.mean).all()


def test_sleeping_products_are_kept():
    learner = taught(60)
    learner.state.settings = Parameters(most_active=4)
    learner.learn(parcel(mug=1), reading(300))
    restored = from_bytes(to_bytes(learner), Parameters(most_active=4))
    assert restored is not None
    assert restored.state.asleep == learner.state.asleep
    assert restored.state.asleep


@pytest.mark.parametrize("cut", [0, 1, 100, -1])
def test_a_damaged_snapshot_is_not_used(cut):
    content = to_bytes(taught(20))
    assert from_bytes(content[:cut], Parameters()) is None


def test_a_snapshot_with_other_settings_is_not_used():
    assert from_bytes(to_bytes(taught(20)), Parameters(light_odds=0.5)) is None
