"""The address on a label: as large as its space allows, never under 8.5 points, with a straight left margin.

Capitals, dark on light, straight left margin: Publication 28, Appendix A1. At least eight-point sans serif type, each
character at least 0.080 in high: DMM 202.1 (archive of 2020-10-18). Capitals of Noto Sans are 0.714 of the type size,
so 8.5 points gives 0.084 in; eight points would give 0.079.
"""

from __future__ import annotations

from collections.abc import Sequence

from desk.paper.fonts import BOLD_CAPITALS
from desk.paper.ink import LEADING, STEP, Ink
from desk.paper.stock import Box

LEAST = 8.5  # points
TIGHT = 1.12  # line height in type sizes where space is tight; characters of two lines do not touch


class AddressTooLong(ValueError):
    """An address that does not fit its space at the smallest size; callers check `fitted` first."""


def fitted(ink: Ink, lines: Sequence[str], room: tuple[float, float], most: float) -> tuple[float, float, list[str]]:
    """Return type size, line height in points, and lines of the largest block that fits `room` (width, height).

    Lines too wide at the smallest size are wrapped.

    Raises:
        AddressTooLong: not even the wrapped lines fit.
    """
    width, height = room
    widest = max((ink.width(line, 10, bold=True) for line in lines), default=1) / 10
    for leading in (LEADING, TIGHT):
        size = min(most, width / max(widest, 0.01), height / max(_high(len(lines), leading), 0.01))
        size = int(size / STEP + 1e-6) * STEP
        if size >= LEAST:
            return size, size * leading, list(lines)
    wrapped = [part for line in lines for part in ink.wrapped(line, width, LEAST, bold=True)]
    if LEAST * _high(len(wrapped), TIGHT) > height:
        raise AddressTooLong(" / ".join(lines))
    pitch = min(LEAST * LEADING, (height / LEAST - 1) / max(len(wrapped) - 1, 1) * LEAST)
    return LEAST, max(pitch, LEAST * TIGHT), wrapped


def _high(lines: int, leading: float) -> float:
    """Return a block's height in type sizes, from the first line's ascent to the last line's descent."""
    return max(lines - 1, 0) * leading + 1


def draw_address(ink: Ink, lines: Sequence[str], box: Box, most: float, *, low: bool = False) -> float:
    """Write the lines from the top of a box, or to its bottom when `low`. Return the top of the first line's capitals.

    Raises:
        AddressTooLong: they do not fit.
    """
    size, pitch, shown = fitted(ink, lines, (box.width, box.height), most)
    foot = 0.26 * size  # room for descenders below the base line
    first = box.bottom + foot + (len(shown) - 1) * pitch if low else box.top - BOLD_CAPITALS * size - 0.02 * size
    for row, line in enumerate(shown):
        ink.left(box.left, first - row * pitch, line, size, bold=True)
    return first + BOLD_CAPITALS * size
