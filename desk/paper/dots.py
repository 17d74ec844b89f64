"""Dots: Code 128 drawn on whole dots of a label printer, so that every bar is exactly as wide as it should be.

The symbol comes from zxing-cpp (ISO/IEC 15417); drawing it is ours. Module width: three dots at 203 dpi where it fits
with ten modules of quiet on each side, else two, never one; measured on rasters of several programs and with simulated
defects. Each bar is drawn 0.1 dot narrower on each side, because rasterizers disagree about a bar whose edge lies
exactly on the edge of a dot.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache
from itertools import groupby
from typing import Any

INSET = 0.1  # dots
QUIET = 10  # modules on each side, ISO/IEC 15417
MODULE_DOTS = {203: (3, 2), 300: (4, 3)}  # best first
LONGEST = 40  # characters; a longer number fits no label


@dataclass(frozen=True, slots=True)
class Grid:
    """The dots of a printer: 203 or 300 to the inch. An unknown printer gets 203, which also reads at 300."""

    dpi: int = 203

    def __post_init__(self) -> None:
        if self.dpi not in MODULE_DOTS:
            raise ValueError(f"no grid for {self.dpi} dpi; there is one for {', '.join(map(str, MODULE_DOTS))}")

    @property
    def dot(self) -> float:
        """One dot in points."""
        return 72 / self.dpi

    def whole(self, points: float) -> int:
        """The nearest whole dot."""
        return round(points / self.dot)

    def module(self, modules: int, room: float) -> int | None:
        """Dots per module for a code of so many modules in `room` points, quiet zones inside; None: it does not fit."""
        dots = int(room / self.dot + 1e-6)
        return next((wide for wide in MODULE_DOTS[self.dpi] if (modules + 2 * QUIET) * wide <= dots), None)


def can_be_coded(text: str) -> bool:
    """True when Code 128 sets B and C hold every character (printable ASCII) and the code is not beyond any label."""
    return 0 < len(text) <= LONGEST and text.isascii() and text.isprintable()


@lru_cache(maxsize=4096)
def bars(text: str) -> tuple[tuple[tuple[int, int], ...], int]:
    """Bars as (start, width) in modules, and the width of the whole code in modules without quiet zones.

    ValueError when the text cannot be coded.
    """
    if not can_be_coded(text):
        raise ValueError(f"Code 128 cannot hold {text!r}")
    import zxingcpp

    image: Any = zxingcpp.create_barcode(text, zxingcpp.BarcodeFormat.Code128).to_image(
        scale=1, add_hrt=False, add_quiet_zones=False
    )
    row = bytes(memoryview(image).cast("B"))[: image.shape[1]]
    found, at = [], 0
    for black, group in groupby(sample == 0 for sample in row):
        width = len(list(group))
        if black:
            found.append((at, width))
        at += width
    return tuple(found), at


def code_width(text: str, room: float, grid: Grid) -> float | None:
    """Width in points that a code of the text takes in `room`, quiet zones included; None when it is not drawn.

    Not drawn: a text that cannot be coded, or that does not fit at two dots a module. Its number is there in figures.
    """
    if not can_be_coded(text):
        return None
    modules = bars(text)[1]
    wide = grid.module(modules, room)
    return None if wide is None else (modules + 2 * QUIET) * wide * grid.dot


def in_dots(
    text: str, room: float, grid: Grid, module: int | None = None
) -> tuple[list[tuple[float, float]], int] | None:
    """The bars of a code in dots from the start of its quiet zone, inset, and its whole width in dots; None: no code.

    `module` sets the dots of a module, for the ladder of a test page; None: the best that fits.
    """
    if not can_be_coded(text):
        return None
    found, modules = bars(text)
    wide = module or grid.module(modules, room)
    if wide is None:
        return None
    start = QUIET * wide
    drawn = [(start + at * wide + INSET, width * wide - 2 * INSET) for at, width in found]
    return drawn, (modules + 2 * QUIET) * wide
