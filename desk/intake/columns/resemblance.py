"""Which names a text resembles: for words mistyped, shortened, or in another order."""

from __future__ import annotations

from collections.abc import Iterable

from desk.intake.columns.headers import folded

NEAR = 70  # of 100; below it the similarity of two short names is chance


def resembling(text: str, names: Iterable[str], most: int = 3) -> tuple[str, ...]:
    """Return the names the text resembles, most similar first, at most `most`; empty when none is close."""
    from rapidfuzz import fuzz, utils

    def likeness(name: str) -> float:
        if folded(name) == folded(text):
            return 100.0
        plain, other = utils.default_process(text), utils.default_process(name)
        return min(99.0, max(fuzz.token_set_ratio(plain, other), fuzz.WRatio(plain, other)))

    rated = sorted(((likeness(name), name) for name in dict.fromkeys(names) if name), key=lambda pair: -pair[0])
    return tuple(name for like, name in rated[:most] if like >= NEAR)
