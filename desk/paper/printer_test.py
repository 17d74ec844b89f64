"""Printer test page: rulers, a cross to measure from, lines and type at the limit, and a ladder of codes.

The user measures cross and ruler, which gives offset and scale. The smallest code that scans shows how finely it
prints.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import BinaryIO

from desk.paper.dots import QUIET, bars
from desk.paper.ink import Ink, PageRecord
from desk.paper.press import Press, start
from desk.paper.stock import INCH, MILLIMETER, Box

CROSS = 15 * MILLIMETER  # from the left and the bottom edge
RULER_MM = 50
SIZES = (10.0, 8.5, 8.0, 7.0, 6.0, 5.0, 4.0)
SHORT = 5.4 * INCH  # a lower page has fewer sizes and lower codes
TINY = 1.6 * INCH  # a page as low as this, or low and narrow, has only cross, rulers and the printer's name
SIZES_SHORT = (8.0, 6.0, 5.0, 4.0)
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
    left = CROSS + 16
    room = ink.size[0] - left - 8
    is_high = height > 4 * INCH
    is_tiny = height < TINY or (not is_high and room < len(LADDER) * 48 - 4)
    y = CROSS if is_tiny else height - 22
    ink.left(left, y, *ink.squeezed(content.printer, room, (7 if is_tiny else 13, 6), bold=True), bold=True)
    if is_tiny:
        document.close()
        return document.finish()
    lines = [(line, 7.0) for line in ink.wrapped(content.settings, room, 7)]
    for line, size in lines if is_high else [ink.squeezed(content.settings, room, (7, 5))]:
        y -= 10
        ink.left(left, y, line, size)
    y = _lines(ink, left, y - (20 if is_high else 11), room)
    if is_high:
        y = _type(ink, left, y - 8, room)
        _ladder(ink, left, y - 6, room)
    document.close()
    return document.finish()


def _cross_and_rulers(ink: Ink) -> None:
    """Draw a cross 15 mm from the left and bottom edges, a ruler in mm along it, and one in inches up the left edge."""
    ink.line((CROSS - 10, CROSS), (CROSS + 10, CROSS), 0.5)
    ink.line((CROSS, CROSS - 10), (CROSS, CROSS + 10), 0.5)
    y = CROSS + 20
    length = min(RULER_MM, int((ink.size[0] - CROSS - 20) / MILLIMETER) // 10 * 10)
    ink.line((CROSS, y), (CROSS + length * MILLIMETER, y), 0.5)
    for millimeter in range(length + 1):
        long = 10 if millimeter % 10 == 0 else 6 if millimeter % 5 == 0 else 3.5
        x = CROSS + millimeter * MILLIMETER
        ink.line((x, y), (x, y + long), 0.5)
        if millimeter % 10 == 0 and ink.size[1] >= TINY:
            ink.middle(x, y + 12, f"{millimeter}", 6)
    ink.left(CROSS + length * MILLIMETER + 6, y, "mm", 6)
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


def _lines(ink: Ink, left: float, start: float, room: float) -> float:
    """Draw lines of 1 to 4 dots, horizontal and vertical, as many beside each other as fit. Return where they end."""
    dot, across = ink.grid.dot, max(1, int((room + 4) / 48))
    y = start
    for place, dots in enumerate(LADDER):
        x, y = left + place % across * 48, start - place // across * 28
        ink.left(x, y, _dots(dots), 6)
        for line in range(3):
            ink.line((x, y - 5 - line * 5), (x + 20, y - 5 - line * 5), dots * dot)
            ink.line((x + 26 + line * 6, y - 3), (x + 26 + line * 6, y - 17), dots * dot)
    return y - 24


def _type(ink: Ink, left: float, y: float, room: float) -> float:
    for size in SIZES if ink.size[1] > SHORT else SIZES_SHORT:
        words = f"{size:g} point: 17 Quill Row, Duluth MN 55802"
        ink.left(left, y, ink.wrapped(words, room, size)[0], size)  # in its true size, or it would show nothing
        y -= size + 4
    return y


def _ladder(ink: Ink, left: float, y: float, room: float) -> None:
    step = 38.0 if ink.size[1] > SHORT else 27.0
    for dots in LADDER:
        if y - step < CROSS + 36 or (bars(CODE)[1] + 2 * QUIET) * dots * ink.grid.dot > room:
            return
        ink.left(left, y - 8, f"{_dots(dots)} per module", 6)
        ink.code(CODE, Box(left, y - step + 6, room, step - 18), dots)
        y -= step
