"""Grade a printed barcode by the parameters of ISO/IEC 15416, on a page rendered at the printer's resolution.

Thresholds: as coded in public programs (we did not have ISO/IEC 15416 itself). Decodability of Code 128 by edges to
similar edges (ISO/IEC 15417, from memory): how close the worst comes to the reference threshold between two modules. A
rendered page has 100% reflectance for paper and 0% for ink, so the grade covers drawing, rendering and dots, not the
ribbon.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import accumulate, pairwise

from desk.paper.proof import Dots
from desk.paper.stock import Box

LINES = 10  # scan lines, over the inner 80% of the bars
LETTERS = "ABCD"
CONTRAST, MODULATION = (70, 55, 40, 20), (70, 60, 50, 40)  # percent, at least, for A to D
DEFECTS = (15, 20, 25, 30)  # percent, at most
DECODABILITY = (62, 50, 37, 25)  # percent, at least
APERTURE = 0.8  # of a module
FINE = 8  # samples per dot along a scan line
MODULES = 11  # of a symbol character


@dataclass(frozen=True, slots=True)
class LineGrade:
    """One scan line's parameters in percent. A line that cannot be decoded has a decodability of 0."""

    contrast: float
    modulation: float
    defects: float
    decodability: float

    @property
    def points(self) -> int:
        """Return 4 for A down to 0 for F, by the worst parameter."""
        return min(
            _points(self.contrast, CONTRAST),
            _points(self.modulation, MODULATION),
            _points(-self.defects, tuple(-limit for limit in DEFECTS)),
            _points(self.decodability, DECODABILITY),
        )


@dataclass(frozen=True, slots=True)
class SymbolGrade:
    """The mean of ten scan lines, 4.0 for A down to 0.0, and its letter."""

    value: float
    lines: tuple[LineGrade, ...]

    @property
    def letter(self) -> str:
        """Return `A` from 3.5, `B` from 2.5, `C` from 1.5, `D` from 0.5, else `F`."""
        return "FDCBA"[int(self.value + 0.5)]


def grade(dots: Dots, box: Box, dpi: int, module: int) -> SymbolGrade:
    """Return the grade of the code in a box of the page; `module` is its narrowest bar in dots."""
    lines = tuple(_line(profile, module) for profile in _profiles(dots, box, dpi))
    return SymbolGrade(sum(line.points for line in lines) / len(lines), lines)


def _profiles(dots: Dots, box: Box, dpi: int) -> list[list[int]]:
    """Return ten lines of gray levels across the bars, from quiet zone to quiet zone."""
    by = dpi / 72
    left, right = round(box.left * by), round(box.right * by)
    top, bottom = dots.height - round(box.top * by), dots.height - round(box.bottom * by)
    places = [0.1 + 0.8 * (number + 0.5) / LINES for number in range(LINES)]
    if box.height > box.width:  # horizontal bars, one above the other
        columns = [left + int((right - left) * place) for place in places]
        return [[dots.data[y * dots.stride + x] for y in range(top, bottom)] for x in columns]
    rows = [top + int((bottom - top) * place) for place in places]
    return [list(dots.row(y)[left:right]) for y in rows]


def _line(levels: Sequence[int], module: int) -> LineGrade:
    """Return one scan line's parameters through an aperture of 0.8 modules."""
    seen = _through_aperture(levels, module)
    high, low = max(seen), min(seen)
    contrast = (high - low) * 100 / 255
    if contrast == 0:
        return LineGrade(0, 0, 100, 0)
    elements = _elements(seen, (high + low) / 2)
    extremes = [(max if light else min)(seen[start:end]) for light, start, end in elements]
    edges = [abs(one - other) for one, other in pairwise(extremes)]
    modulation = min(edges, default=0) * 100 / (high - low)
    defects = (
        max((_defect(seen[start:end], light=light) for light, start, end in elements), default=0) * 100 / (high - low)
    )
    widths = [(end - start) / FINE for _, start, end in elements[1:-1]]
    decodability = max(_decodability(widths), _decodability(widths[::-1]))  # a code may be scanned from either end
    return LineGrade(contrast, modulation, defects, decodability * 100)


def _through_aperture(levels: Sequence[int], module: int) -> list[float]:
    fine = [level for level in levels for _ in range(FINE)]
    wide = max(1, round(APERTURE * module * FINE))
    sums, total = [0.0], 0.0
    for level in fine:
        total += level
        sums.append(total)
    half = wide // 2
    last = len(fine)
    spans = ((max(0, at - half), min(last, at - half + wide)) for at in range(last))
    return [(sums[end] - sums[start]) / (end - start) for start, end in spans]


def _elements(seen: Sequence[float], threshold: float) -> list[tuple[bool, int, int]]:
    """Return (is light, start, end) of each bar and space, quiet zones first and last."""
    found, start = [], 0
    for at in range(1, len(seen) + 1):
        if at == len(seen) or (seen[at] > threshold) != (seen[start] > threshold):
            found.append((seen[start] > threshold, start, at))
            start = at
    return found


def _defect(part: Sequence[float], *, light: bool) -> float:
    """Return the deepest dip inside an element: a spot in a space, a void in a bar."""
    levels = list(part) if light else [-level for level in part]
    before = list(accumulate(levels, max))
    after = list(accumulate(reversed(levels), max))[::-1]
    return max(min(one, other) - level for one, other, level in zip(before, after, levels, strict=True))


def _decodability(widths: Sequence[float]) -> float:
    """Return how far the worst edge is from its reference threshold, 1 where exact; 0 if it is not Code 128."""
    if len(widths) < 19 or (len(widths) - 7) % 6:  # at least start, check and stop; the stop has seven elements
        return 0.0
    worst = 1.0
    for start in range(0, len(widths) - 6, 6):
        six = widths[start : start + 6]
        whole = sum(six)
        for one, other in pairwise(six):
            modules = (one + other) * MODULES / whole
            nearest = min(abs(modules - (limit + 0.5)) for limit in range(1, 8))
            worst = min(worst, nearest * 2)
    return worst


def _points(value: float, limits: Sequence[float]) -> int:
    return next((4 - place for place, limit in enumerate(limits) if value >= limit), 0)
