"""Dots: Code 128 drawn on whole printer dots, so that every bar is exactly as wide as it should be.

The symbol comes from zxing-cpp (ISO/IEC 15417); we draw it. Module width: three dots at 203 dpi where that fits with
ten modules of quiet zone on each side, else two, never one; measured on rasters of several programs and with simulated
defects. Each bar is drawn 0.1 dot narrower on each side, because rasterizers disagree about an edge exactly between two
dots.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from functools import lru_cache
from typing import Any  # zxing-cpp's types lack its images

INSET = 0.1  # dots
QUIET = 10  # modules of quiet zone on each side, ISO/IEC 15417
MODULE_DOTS = {203: (3, 2), 300: (4, 3)}  # best first
LONGEST = 40  # characters; a longer number does not fit any label
_BLACK = re.compile(b"\x00+")  # gray levels of a bar


@dataclass(frozen=True, slots=True)
class Grid:
    """A printer's dots: 203 or 300 per inch. An unknown printer gets 203, which also scans at 300."""

    dpi: int = 203

    def __post_init__(self) -> None:
        if self.dpi not in MODULE_DOTS:
            raise ValueError(f"no grid for {self.dpi} dpi; there is one for {', '.join(map(str, MODULE_DOTS))}")

    @property
    def dot(self) -> float:
        """Return the size of a dot in points."""
        return 72 / self.dpi

    def whole(self, points: float) -> int:
        """Return the nearest whole dot."""
        return round(points / self.dot)

    def module(self, modules: int, room: float) -> int | None:
        """Return the dots per module for a code with quiet zones in `room` points; None when it does not fit."""
        dots = int(room / self.dot + 1e-6)
        return next((wide for wide in MODULE_DOTS[self.dpi] if (modules + 2 * QUIET) * wide <= dots), None)


def can_be_coded(text: str) -> bool:
    """Return True when Code 128 can encode the text (printable ASCII) and it is short enough for a label."""
    return 0 < len(text) <= LONGEST and text.isascii() and text.isprintable()


@lru_cache(maxsize=512)  # asked for a code's width, then for its bars; 4 kB each
def bars(text: str) -> tuple[tuple[tuple[int, int], ...], int]:
    """Return the bars as (start, width) in modules, and the code's width in modules without quiet zones.

    Raises:
        ValueError: the text cannot be encoded.
    """
    if not can_be_coded(text):
        raise ValueError(f"Code 128 cannot hold {text!r}")
    import zxingcpp

    image: Any = zxingcpp.create_barcode(text, zxingcpp.BarcodeFormat.Code128).to_image(
        scale=1, add_hrt=False, add_quiet_zones=False
    )
    row = bytes(memoryview(image).cast("B"))[: image.shape[1]]
    return tuple((black.start(), black.end() - black.start()) for black in _BLACK.finditer(row)), len(row)


def code_width(text: str, room: float, grid: Grid) -> float | None:
    """Return the width in points of a text's code in `room`, quiet zones included; None when it cannot be drawn.

    A text that cannot be encoded, or does not fit at two dots per module, is shown only in digits.
    """
    if not can_be_coded(text):
        return None
    modules = bars(text)[1]
    wide = grid.module(modules, room)
    return None if wide is None else (modules + 2 * QUIET) * wide * grid.dot


@dataclass(frozen=True, slots=True)
class BarPath:
    """The bars of a code as (start, width) in modules: a path of the page library's kind, to be moved by INSET.

    `module` is the width of a module, `wide` and `high` the size with quiet zones, all in dots.
    """

    bars: tuple[tuple[int, int], ...]
    module: int
    wide: int
    high: int

    def getCode(self) -> str:  # noqa: N802 - the page library asks for it
        """Return the path's operators, in a fifth of the time that the page library takes for its own path."""
        sizes = [f"0 {width * self.module - 2 * INSET:.1f} {self.high - 2 * INSET:.1f} re" for width in range(5)]
        return "n " + " ".join([f"{(QUIET + at) * self.module} {sizes[width]}" for at, width in self.bars])


def in_dots(text: str, room: float, high: int, grid: Grid, module: int | None = None) -> BarPath | None:
    """Return a code's bars, `high` dots high; None when the text can't be encoded or is too long for `room` points.

    `module` sets the dots per module, for the ladder on a test page; None: the best that fits.
    """
    if not can_be_coded(text):
        return None
    widths, modules = bars(text)
    wide = module or grid.module(modules, room)
    return None if wide is None else BarPath(widths, wide, (modules + 2 * QUIET) * wide, high)
