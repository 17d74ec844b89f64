"""The strip of a tag: hole mark, small code for the shop's own use, vertical order number, ounces and piece count."""

from __future__ import annotations

from desk.paper.ink import Ink
from desk.paper.label.label_content import LabelContent
from desk.paper.stock import Box

TAG_STRIP = 60.5  # points, width on a tag
LETTER_STRIP = 46.0
SHOP_USE = "shop use"
SMALL_TYPE = 7.0
LARGE = 58.0  # the number on a tag, in points
WORTH = 30.0  # a number at least this large gets its own column


def draw_strip(ink: Ink, content: LabelContent) -> None:
    """Draw the strip of a tag along its left edge."""
    height = ink.size[1]
    ink.line((TAG_STRIP, 8), (TAG_STRIP, height - 8), 1.4)
    ink.canvas.setLineWidth(2)
    ink.canvas.circle(TAG_STRIP / 2 + 1, height - 24, 7, stroke=1, fill=0)
    low = _foot(ink, content)
    with ink.within(Box(0, low, TAG_STRIP, height - 42 - low), turned=True) as column:
        code = ink.code_width(content.reference, column.size[0])
        room = column.size[0] - code - 10
        size = ink.size_for(content.order, room, (LARGE, 6), bold=True)
        if size >= WORTH:
            _one_after_the_other(column, content, size, code)
        else:
            _side_by_side(column, content, content.order, (TAG_STRIP * 0.5, 6))


def draw_letter_strip(ink: Ink, content: LabelContent) -> bool:
    """Draw the strip of a small label. Return True when the code fits in it."""
    height = ink.size[1]
    ink.line((LETTER_STRIP, 6), (LETTER_STRIP, height - 6), 1.2)
    with ink.within(Box(0, 6, LETTER_STRIP, height - 12), turned=True) as column:
        words = "  ".join(filter(None, (content.order, content.billable)))
        return _side_by_side(column, content, words, (19, 6))


def letter_strip_has_code(ink: Ink, content: LabelContent) -> bool:
    """Return True when the strip of a small label has room for the code."""
    return ink.code_width(content.reference, ink.size[1] - 12) > 0


def _foot(ink: Ink, content: LabelContent) -> float:
    """Write ounces and piece count at the foot of a tag's strip. Return their height."""
    middle, room = TAG_STRIP / 2 + 1, TAG_STRIP - 8
    first, _, rest = content.piece_of.partition(" ")
    lines = [word for word in (rest, first) if word]
    for row, line in enumerate(lines):
        ink.middle(middle, 10 + 9.5 * row, *ink.squeezed(line, room, (8, 5.5)))
    y = 14 + 9.5 * len(lines)
    words, size = ink.squeezed(content.billable, room, (20, 6.5), bold=True)
    ink.middle(middle, y, words, size, bold=True)
    return y + size + 4


def _caption(content: LabelContent) -> str:
    return f"{SHOP_USE} {content.reference}"


def _one_after_the_other(column: Ink, content: LabelContent, size: float, code: float) -> None:
    """Draw the number large along the lower edge, with the code at its upper end. In the column x runs up the edge."""
    long, width = column.size
    wide = column.width(content.order, size, bold=True)
    column.left((long - code - wide) / 2, width * 0.53 - size * 0.36, content.order, size, bold=True)
    if code:
        column.code(content.reference, Box(long - code, width * 0.25 - 3, code + 1, width * 0.5))
    left, room = (long - code, code) if code else (0.0, long)
    column.middle(left + room / 2, width - 11, *column.squeezed(_caption(content), max(room, 40), (SMALL_TYPE, 5)))


def _side_by_side(column: Ink, content: LabelContent, words: str, sizes: tuple[float, float]) -> bool:
    """Draw the number along the whole edge, with the code next to it. Return True when there is a code."""
    long, width = column.size
    words, size = column.squeezed(words, long, sizes, bold=True)
    column.middle(long / 2, width - 4 - size * 0.8, words, size, bold=True)
    code = column.code_width(content.reference, long)
    high = width - size - SMALL_TYPE - 12
    drawn = bool(code) and column.code(content.reference, Box((long - code) / 2, SMALL_TYPE + 6, code + 1, high))
    caption = _caption(content) if width > LETTER_STRIP else f"{_caption(content)} · {content.piece_of}"
    column.middle(long / 2, 5, *column.squeezed(caption, long, (SMALL_TYPE, 5)))
    return drawn
