"""Slip: a 4 x 2 in page that lies with a piece until it has its label: number and ounces large, and the code."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from typing import BinaryIO

from desk.paper.dots import code_width, draw_code
from desk.paper.ink import Ink
from desk.paper.press import SMALL, Press, write_pages

EDGE = 9.0
RIGHT = SMALL[0] - EDGE


@dataclass(frozen=True, slots=True, kw_only=True)
class SlipContent:
    """One slip. `billable` is the figure to write, or that the piece is still to be weighed; `stands` where it is."""

    order: str
    reference: str
    piece_of: str
    billable: str
    stands: str
    recipient_short: str
    mailer: str = ""
    remarks: tuple[str, ...] = ()


def write_slips(contents: Iterable[SlipContent], out: BinaryIO, press: Press) -> int:
    """Write a page for each slip; how many pages."""
    return write_pages(contents, out, press, SMALL, _draw)


def _draw(ink: Ink, content: SlipContent) -> None:
    _number(ink, content)
    ink.rule(EDGE, 76, RIGHT, 1)
    wide = code_width(content.reference, SMALL[0] - 8, ink.grid) or 0.0
    if wide:
        draw_code(ink.canvas, content.reference, (4, 44, wide + 1, 26), ink.grid)
    room = RIGHT - wide - 4
    if room > 60:
        _words(ink, (content.stands, content.mailer), (wide + 4, 60, room))
    _words(ink, (_joined(content.reference, content.piece_of, content.recipient_short),), (EDGE, 30, RIGHT - EDGE))
    rest = content.remarks if room > 60 else (content.stands, content.mailer, *content.remarks)
    _words(ink, (_joined(*rest),), (EDGE, 13, RIGHT - EDGE), bold=True)


def _number(ink: Ink, content: SlipContent) -> None:
    """Number and ounces on one line while both stay large, else the number above the ounces."""
    room = RIGHT - EDGE
    ounces = ink.size_for(content.billable, room * 0.36, (34, 16), bold=True)
    beside = room - ink.width(content.billable, ounces, bold=True) - 14
    size = ink.size_for(content.order, beside, (62, 8), bold=True)
    if size >= 30:
        ink.left(EDGE, 110 - size * 0.36, content.order, size, bold=True)
        ink.right(RIGHT, 110 - ounces * 0.36, content.billable, ounces, bold=True)
        return
    size = ink.size_for(content.order, room, (30, 8), bold=True)
    ink.left(EDGE, 124 - size * 0.36, content.order, size, bold=True)
    ink.left(EDGE, 84, *ink.squeezed(content.billable, room, (24, 8), bold=True), bold=True)


def _words(ink: Ink, lines: tuple[str, ...], place: tuple[float, float, float], *, bold: bool = False) -> None:
    x, top, room = place
    for row, line in enumerate(filter(None, lines)):
        ink.left(x, top - 13 * row, *ink.squeezed(line, room, (10, 6), bold=bold), bold=bold)


def _joined(*words: str) -> str:
    return " · ".join(filter(None, words))
