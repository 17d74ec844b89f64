"""The upper right corner of a label: space for real stamps or a meter strip, or a note that postage is not paid yet.

Four plain corner marks and the kinds of stamps in words: pictures that look like stamps may not be on the outside of
mail (IMM 153, archive of 2014). One stamp is 0.87 × 0.98 in (from memory).
"""

from __future__ import annotations

from collections.abc import Sequence

from desk.paper.ink import Ink
from desk.paper.label.label_content import LabelContent, PostageMark
from desk.paper.stock import INCH, Box

STAMP = (0.87 * INCH, 0.98 * INCH)
PAD = 5.0  # points between a stamp and the marks
MARK = 9.0  # length of a corner mark
MOST = 6  # stamps that fit in the corner; more go next to it
METER = (1.6 * INCH, 1.1 * INCH)
NOT_PAID = "POSTAGE NOT PAID YET"
METER_HERE = "meter strip here"
WORDS = (8.5, 5.5)


def corner_size(content: LabelContent, columns: int | None = None) -> tuple[float, float]:
    """Return the corner's width and height in points, for its stamps in `columns` (one for two stamps, else two)."""
    if content.payment is not PostageMark.STAMPED:
        return METER
    stamps = min(max(sum(number for number, _ in content.stamps), 1), MOST)
    across = min(columns or (1 if stamps <= 2 else 2), stamps)
    down = -(-stamps // across)
    return across * STAMP[0] + 2 * PAD + 2, down * STAMP[1] + 2 * PAD + 2


def draw_corner(ink: Ink, content: LabelContent, box: Box) -> None:
    """Draw the corner into its box."""
    if content.payment is PostageMark.COUNTER:
        ink.box(box, 2)
        _lines(ink, [NOT_PAID], box, (10.5, 7), bold=True)
        return
    _marks(ink, box)
    if content.payment is PostageMark.STAMPED:
        _lines(ink, stamp_words(content), box, WORDS)
    elif content.payment is PostageMark.METERED:
        _lines(ink, [METER_HERE], box, WORDS)


def stamp_words(content: LabelContent) -> list[str]:
    """Return which stamps to use, one kind per line; without a choice the amount: `$4.93 in stamps`."""
    return stamp_lines(content.stamps) or ([f"{content.postage} in stamps"] if content.postage else [])


def stamp_lines(stamps: Sequence[tuple[int, str]]) -> list[str]:
    """Return which stamps to use, one kind per line: `1 Forever`, `+ 2 additional ounce`."""
    return [f"{'+ ' if row else ''}{number} {words}" for row, (number, words) in enumerate(stamps)]


def _marks(ink: Ink, box: Box) -> None:
    corners = [(x, y, right, up) for x, right in ((box.left, MARK), (box.right, -MARK))
               for y, up in ((box.bottom, MARK), (box.top, -MARK))]  # fmt: skip
    ink.lines([(x, y, *end) for x, y, right, up in corners for end in ((x + right, y), (x, y + up))], 1.4)


def _lines(ink: Ink, words: Sequence[str], box: Box, sizes: tuple[float, float], *, bold: bool = False) -> None:
    """Write lines centered in the box, smaller until they fit."""
    room = (box.width - 8, box.height - 8)
    size = sizes[0]
    while True:
        lines = [part for line in words for part in ink.wrapped(line, room[0], size, bold=bold)]
        if len(lines) * size * 1.25 <= room[1] or size <= sizes[1]:
            break
        size -= 0.5
    top = box.bottom + box.height / 2 + len(lines) * size * 0.625
    for row, line in enumerate(lines):
        ink.middle(box.left + box.width / 2, top - (row + 0.95) * size * 1.25, line, size, bold=bold)
