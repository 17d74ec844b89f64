"""Counts in words."""

from __future__ import annotations

from collections.abc import Sequence

_NAMED = 3


def pieces_in_words(count: int) -> str:
    """Return `1 piece` or `3 pieces`."""
    return "1 piece" if count == 1 else f"{count} pieces"


def some_of(references: Sequence[str]) -> str:
    """Return `(3 pieces: 1001-1, 1002-1, 1003-1)` with at most three named; empty for none."""
    if not references:
        return ""
    more = ", …" if len(references) > _NAMED else ""
    return f"({pieces_in_words(len(references))}: {', '.join(references[:_NAMED])}{more})"
