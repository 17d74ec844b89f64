"""Printer test page: rulers, a cross to measure from, lines and type at the limit, and a ladder of codes.

The user measures cross and ruler, which gives offset and scale. The smallest code that scans shows how finely it
prints.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import BinaryIO

from desk.paper.ink import Ink, PageRecord
from desk.paper.press import Press, start
from desk.paper.stock import INCH, MILLIMETER, Box

CROSS = 15 * MILLIMETER  # from the left and the bottom edge
RULER_MM = 50
SIZES = (10.0, 8.5, 8.0, 7.0, 6.0, 5.0, 4.0)
LADDER = (1, 2, 3, 4)  # dots per module
CODE = "12345678"


@dataclass(frozen=True, slots=True)
class PrinterTestContent:
    """One test page: the printer's name and its settings, as text."""

    printer: str
    settings: str


def write_printer_test(content: PrinterTestContent, out: BinaryIO, press: Press) -> tuple[PageRecord, ...]:
    """Write the test page of one printer. Return what is on it."""
    document = start(out, press)
    ink = document.open()
    height = ink.size[1]
    _cross_and_rulers(ink)
    left, y = CROSS + 16, height - 22
    room = ink.size[0] - left - 8
    ink.left(left, y, *ink.squeezed(content.printer, room, (13, 7), bold=True), bold=True)
    ink.left(left, y - 13, *ink.squeezed(content.settings, room, (8, 6)))
    y = _lines(ink, left, y - 30)
    if height > 4 * INCH:
        y = _type(ink, left, y - 10, room)
        _ladder(ink, left, y - 8, room)
    document.close()
    return document.finish()


def _cross_and_rulers(ink: Ink) -> None:
    """Draw a cross 15 mm from the left and bottom edges, a ruler in mm along it, and one in inches up the left edge."""
    ink.line((CROSS - 10, CROSS), (CROSS + 10, CROSS), 0.5)
    ink.line((CROSS, CROSS - 10), (CROSS, CROSS + 10), 0.5)
    y = CROSS + 20
    ink.line((CROSS, y), (CROSS + RULER_MM * MILLIMETER, y), 0.5)
    for millimeter in range(RULER_MM + 1):
        long = 10 if millimeter % 10 == 0 else 6 if millimeter % 5 == 0 else 3.5
        x = CROSS + millimeter * MILLIMETER
        ink.line((x, y), (x, y + long), 0.5)
        if millimeter % 10 == 0:
            ink.middle(x, y + 12, f"{millimeter}", 6)
    ink.left(CROSS + RULER_MM * MILLIMETER + 8, y, "mm", 6)
    inches = int((ink.size[1] - CROSS - 40) / INCH)
    x, bottom = 14.0, CROSS + 20
    ink.line((x, bottom), (x, bottom + inches * INCH), 0.5)
    for eighth in range(inches * 8 + 1):
        level = bottom + eighth * INCH / 8
        ink.line((x, level), (x + (8 if eighth % 8 == 0 else 4), level), 0.5)
        if eighth % 8 == 0:
            ink.left(x + 10, level - 2, f"{eighth // 8} in" if eighth else "0", 6)


def _dots(count: int) -> str:
    return "1 dot" if count == 1 else f"{count} dots"


def _lines(ink: Ink, left: float, y: float) -> float:
    """Draw lines of 1 to 4 dots, horizontal and vertical."""
    dot = ink.grid.dot
    for place, dots in enumerate(LADDER):
        x = left + place * 48
        ink.left(x, y, _dots(dots), 6)
        for line in range(3):
            ink.line((x, y - 5 - line * 5), (x + 20, y - 5 - line * 5), dots * dot)
            ink.line((x + 26 + line * 6, y - 3), (x + 26 + line * 6, y - 17), dots * dot)
    return y - 24


def _type(ink: Ink, left: float, y: float, room: float) -> float:
    for size in SIZES:
        words = f"{size:g} point: 17 Quill Row, Duluth MN 55802"
        ink.left(left, y, *ink.squeezed(words, room, (size, 3)))
        y -= size + 4
    return y


def _ladder(ink: Ink, left: float, y: float, room: float) -> None:
    for dots in LADDER:
        ink.left(left, y - 8, f"{_dots(dots)} per module", 6)
        if y - 40 > CROSS + 45:
            ink.code(CODE, Box(left, y - 32, room, 20), dots)
        y -= 38
