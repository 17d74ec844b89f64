"""Break a text that is too wide for its cell into two lines. No widgets."""

from __future__ import annotations

from collections.abc import Callable

Advance = Callable[[str], int]  # the pixels a text takes
_ELLIPSIS, _TIMES = "…", "×"


def in_two_lines(words: str, width: int, advance: Advance) -> tuple[str, str]:
    """Return the text in one or two lines of that width; the second is cut with an ellipsis where two are too few."""
    if advance(words) <= width:
        return words, ""
    parts = words.split(" ")
    breaks = [n for n in range(1, len(parts)) if _TIMES not in parts[n - 1 : n + 1]]  # `2 × card` stays together
    count = next((n for n in reversed(breaks) if advance(" ".join(parts[:n])) <= width), 0)
    if not count:
        return cut(words, width, advance), ""
    return " ".join(parts[:count]), cut(" ".join(parts[count:]), width, advance)


def cut(words: str, width: int, advance: Advance) -> str:
    """Return as much of the start of a text as fits, with an ellipsis where something is left out."""
    if advance(words) <= width:
        return words
    low, high = 0, len(words)
    while low < high:  # the longest start that fits together with the ellipsis
        middle = (low + high + 1) // 2
        low, high = (middle, high) if advance(words[:middle] + _ELLIPSIS) <= width else (low, middle - 1)
    return words[:low].rstrip() + _ELLIPSIS
