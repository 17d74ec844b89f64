"""Changes: joined over actions, and used by screens to decide whether to read a piece again."""

import pytest

from desk.domain.changes import Changes


def test_changes_are_combined():
    joined = Changes(pieces=frozenset({1}), shop=True) | Changes(pieces=frozenset({2}), orders=frozenset({9}))

    assert joined == Changes(pieces=frozenset({1, 2}), orders=frozenset({9}), shop=True)


@pytest.mark.parametrize("flag", ["shop", "settings"])
def test_a_flag_set_in_either_change_stays_set(flag):
    assert getattr(Changes() | Changes(**{flag: True}), flag)
    assert getattr(Changes(**{flag: True}) | Changes(), flag)
    assert not getattr(Changes() | Changes(), flag)


def test_combining_with_no_changes_changes_nothing():
    changes = Changes(frozenset({1}), frozenset({2}), shop=True, settings=True)

    assert changes | Changes() == changes
