"""Counts in words."""

from __future__ import annotations

from collections.abc import Sequence

from desk.session.words.figures import counted

_NAMED = 3


def pieces_in_words(count: int) -> str:
    """Return `1 piece` or `3 pieces`."""
    return counted(count, "piece")


def some_of(references: Sequence[str]) -> str:
    """Return `(3 pieces: 1001-1, 1002-1, 1003-1)` with at most three named; empty for none."""
    if not references:
        return ""
    more = ", …" if len(references) > _NAMED else ""
    return f"({pieces_in_words(len(references))}: {', '.join(references[:_NAMED])}{more})"
