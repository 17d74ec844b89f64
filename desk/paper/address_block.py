"""The address on a label: as large as its place allows, never under eight point, straight left margin.

Capitals, dark on light, straight left margin: Publication 28, Appendix A1. Eight point at least: DMM 202 (from memory).
"""

from __future__ import annotations

from collections.abc import Sequence

from desk.paper.ink import LEADING, Ink

LEAST = 8.0  # points


class AddressTooLong(ValueError):
    """An address that does not fit its place at eight point; callers ask `address_fits` before."""


def draw_address(
    ink: Ink, lines: Sequence[str], place: tuple[float, float, float, float], most: float, *, low: bool = False
) -> None:
    """Write the lines into `place` (left, bottom, width, height), from its top, or onto its bottom when `low`."""
    left, bottom, width, height = place
    size, fitted = ink.fitted(lines, (width, height), (most, LEAST), bold=True)
    pitch = min(size * LEADING, height / max(len(fitted), 1))
    if pitch < size:
        raise AddressTooLong(" / ".join(lines))
    top = bottom + len(fitted) * pitch if low else bottom + height
    for row, line in enumerate(fitted):
        ink.left(left, top - row * pitch - size * 0.95, line, size, bold=True)


def block_fits(ink: Ink, lines: Sequence[str], room: tuple[float, float]) -> bool:
    """True when the lines fit `room` (width, height) at eight point or more."""
    size, fitted = ink.fitted(lines, room, (LEAST, LEAST), bold=True)
    return len(fitted) * size <= room[1]
