"""Write ids compactly: `[[1, 10000], [10007, 10007]]` instead of ten thousand numbers."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from typing import TypeVar

T = TypeVar("T")
CHUNK = 5_000  # ids in one IN (...), below the limit of both databases


def to_ranges(ids: Iterable[int]) -> list[list[int]]:
    """Return runs of ids, first and last inclusive, in ascending order."""
    runs: list[list[int]] = []
    for number in sorted(ids):
        if runs and runs[-1][1] + 1 == number:
            runs[-1][1] = number
        else:
            runs.append([number, number])
    return runs


def from_ranges(runs: Iterable[Sequence[int]]) -> list[int]:
    """Return the ids of the runs."""
    return [number for first, last in runs for number in range(first, last + 1)]


def chunks(ids: Iterable[T]) -> Iterator[list[T]]:
    """Yield the ids (or other keys) in lists short enough for one query."""
    numbers = list(ids)
    for start in range(0, len(numbers), CHUNK):
        yield numbers[start : start + CHUNK]
