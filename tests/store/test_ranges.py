"""Ids as ranges: short to store, read back unchanged, and never too many in one query."""

from __future__ import annotations

from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from desk.store import ranges
from desk.store.ranges import chunks, from_ranges, to_ranges


@pytest.mark.parametrize(
    ("ids", "runs"),
    [
        ([], []),
        ([7], [[7, 7]]),
        ([1, 2, 3], [[1, 3]]),
        ([1, 3], [[1, 1], [3, 3]]),
        ([9, 2, 3, 1, 8], [[1, 3], [8, 9]]),
        ({5, 4}, [[4, 5]]),
    ],
)
def test_ranges_ascend_and_name_their_first_and_last_id(ids: list[int], runs: list[list[int]]) -> None:
    assert to_ranges(ids) == runs
    assert from_ranges(runs) == sorted(ids)


def test_ten_thousand_consecutive_ids_are_one_range() -> None:
    assert to_ranges(range(1, 10_001)) == [[1, 10_000]]


@given(st.sets(st.integers(1, 10**9)))
def test_any_ids_are_read_back(ids: set[int]) -> None:
    runs = to_ranges(ids)
    assert from_ranges(runs) == sorted(ids)
    assert all(first <= last for first, last in runs)
    assert all(before[1] + 1 < after[0] for before, after in pairwise(runs))


@pytest.mark.parametrize(("count", "sizes"), [(0, []), (1, [1]), (3, [3]), (4, [3, 1]), (6, [3, 3]), (7, [3, 3, 1])])
def test_chunks_are_short_enough_and_complete(count: int, sizes: list[int], monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(ranges, "CHUNK", 3)
    found = list(chunks(range(count)))
    assert [len(some) for some in found] == sizes
    assert [number for some in found for number in some] == list(range(count))


def test_chunks_of_a_generator_read_it_once(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(ranges, "CHUNK", 2)
    assert list(chunks(name for name in "abc")) == [["a", "b"], ["c"]]


def test_one_query_has_fewer_parameters_than_either_database_allows() -> None:
    """SQLite: 32766 parameters (limits, section 9); PostgreSQL: 65535 (protocol, Bind: a count of 16 bits)."""
    assert ranges.CHUNK < 32_766
