"""Counts in words."""

from __future__ import annotations

import pytest

from desk.session.words.counts import pieces_in_words, some_of


@pytest.mark.parametrize(("count", "words"), [(0, "0 pieces"), (1, "1 piece"), (2, "2 pieces")])
def test_pieces_are_counted_in_words(count: int, words: str) -> None:
    assert pieces_in_words(count) == words


@pytest.mark.parametrize(
    ("count", "words"),
    [(0, ""), (1, "(1 piece: 1-1)"), (3, "(3 pieces: 1-1, 2-1, 3-1)"), (4, "(4 pieces: 1-1, 2-1, 3-1, …)")],
)
def test_at_most_three_pieces_are_named(count: int, words: str) -> None:
    assert some_of([f"{number}-1" for number in range(1, count + 1)]) == words
