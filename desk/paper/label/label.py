"""Labels: a tag for packages and large envelopes, and a label for letters.

Black on white, with nothing that could be taken for paid postage or a carrier's label. The tag's strip along the long
edge shows the order number, readable when packages stand in a tote. A letter's label keeps everything above the address
(see `letter_label`).
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from typing import BinaryIO

from desk.paper.dots import Grid
from desk.paper.ink import Ink, PageRecord
from desk.paper.label.address_block import LEAST, TIGHT, AddressTooLong, draw_address, fitted
from desk.paper.label.label_content import LabelContent
from desk.paper.label.letter_label import SMALL, WIDE, draw_small, draw_wide, small_address_boxes, wide_address_box
from desk.paper.label.postage_corner import corner_size, draw_corner
from desk.paper.label.strip import TAG_STRIP, draw_strip
from desk.paper.press import PageForm, Press, write_forms
from desk.paper.stock import INCH, Box, PageSize, StockKind, cells

TAG = (4 * INCH, 6 * INCH)
TAG_LEAST = (3.6 * INCH, 5 * INCH)  # smaller labels use the small form
EDGE = 10.0
LEFT = TAG_STRIP + 14.5  # where the text begins
MOST = 20.0  # points, address
SENDER, SENDER_WRAPPED = 9.5, 8.0  # points; lines too long for the second are wrapped
FOOT = 94.0  # height below the lower rule


def write_labels(contents: Iterable[LabelContent], out: BinaryIO, press: Press) -> tuple[PageRecord, ...]:
    """Write the labels. Return what is on the pages.

    Raises:
        GlyphMissing, AddressTooLong: check `address_fits` first.
    """
    return write_forms(contents, out, press, lambda content: form_of(content, press))


def form_of(content: LabelContent, press: Press) -> PageForm[LabelContent]:
    """Return the tag where the stock has room; for a letter, the wide form on a label its envelope can carry."""
    label = press.stock.labels()[0]
    plain = press.stock.kind is StockKind.PLAIN
    if not plain and (label.width < TAG_LEAST[0] or label.height < TAG_LEAST[1]):
        return PageForm(SMALL, draw_small)
    if not content.letter:
        return PageForm(TAG if plain else (label.width, label.height), draw_tag)
    if plain or press.several or not _takes_wide(content):
        return PageForm(SMALL, draw_small, several=press.several)
    return PageForm((label.width, label.height), draw_wide, turned=True)


def _takes_wide(content: LabelContent) -> bool:
    """Return True when the envelope is larger than a sideways 4 x 6 in label."""
    length, height = content.envelope or (0.0, 0.0)
    return length * INCH >= WIDE[0] and height * INCH >= WIDE[1]


def address_fits(content: LabelContent, press: Press) -> bool:
    """Return True when the address fits its label at the smallest size. Raises GlyphMissing."""
    ink, boxes = _address_boxes(content, press)
    return any(_fits(ink, content.recipient, box) for box in boxes)


def address_room(content: LabelContent, press: Press) -> int:
    """Return about how many characters of an address fit on its label, at the smallest size."""
    ink, boxes = _address_boxes(content, press)
    words = " ".join(content.recipient)
    each = ink.width(words, LEAST, bold=True) / max(len(words), 1)
    return max(int(box.width / max(each, 1)) * int(box.height / (LEAST * TIGHT)) for box in boxes)


def _address_boxes(content: LabelContent, press: Press) -> tuple[Ink, Sequence[Box]]:
    """Return a page to measure with, and the possible areas for the address."""
    form = form_of(content, press)
    cell = cells(press.stock, form.size, several=form.several)[0]
    size = (cell.height, cell.width) if form.turned else (cell.width, cell.height)
    ink = Ink(None, press.fonts, Grid(press.dpi), size)
    if form.draw is draw_tag:
        return ink, (tag_address_box(content, size),)
    return ink, (wide_address_box(size),) if form.turned else small_address_boxes(ink, content)


def _fits(ink: Ink, lines: Sequence[str], box: Box) -> bool:
    try:
        fitted(ink, lines, (box.width, box.height), MOST)
    except AddressTooLong:
        return False
    return True


def tag_address_box(content: LabelContent, size: PageSize) -> Box:
    """Return the address area of a tag: below sender and corner, above the lower rule."""
    corner = corner_size(content)[1]
    top = size[1] - max(172.0, EDGE + corner + 44)
    return Box(LEFT + 14, FOOT + 8, size[0] - EDGE - LEFT - 14, top - FOOT - 8)


def draw_tag(ink: Ink, content: LabelContent) -> None:
    """Draw a label for a package or large envelope."""
    width, height = ink.size
    draw_strip(ink, content)
    wide, high = corner_size(content)
    corner = Box(width - EDGE - wide, height - EDGE - high, wide, high)
    draw_corner(ink, content, corner)
    address = tag_address_box(content, ink.size)
    _sender(ink, content.sender, Box(LEFT, address.top + 34, corner.left - LEFT - 8, height - EDGE - address.top - 34))
    room = corner.left - LEFT - 8 if corner.bottom < address.top + 36 else width - EDGE - LEFT
    words = " · ".join(content.remarks)
    ink.left(LEFT, address.top + 20, *ink.squeezed(words, room, (12.5, 6.5), bold=True), bold=True)
    ink.left(LEFT, address.top + 4, "To", 8.5)
    draw_address(ink, content.recipient, address, MOST)
    _foot(ink, content, width)


def _sender(ink: Ink, lines: Sequence[str], box: Box) -> None:
    """Write the sender from the top of the box, in one size, smaller and at last wrapped where the box is narrow."""
    sizes = [ink.size_for(line, box.width, (SENDER, SENDER_WRAPPED), bold=not row) for row, line in enumerate(lines)]
    size = min(sizes, default=SENDER)
    while True:
        lines_shown = [
            (part, not row)
            for row, line in enumerate(lines)
            for part in ink.wrapped(line, box.width, size, bold=not row)
        ]
        if size <= 6 or (len(lines_shown) <= max(len(lines), 6) and len(lines_shown) * size * 1.35 <= box.height):
            break
        size -= 0.5
    pitch = min(size * 1.38, box.height / max(len(lines_shown), 1))
    for row, (line, bold) in enumerate(lines_shown):
        ink.left(box.left, box.top - size - row * pitch, line, size, bold=bold)


def _foot(ink: Ink, content: LabelContent, width: float) -> None:
    """Write the service and the weight under a rule."""
    room = width - EDGE - LEFT
    ink.rule(LEFT, FOOT, width - EDGE)
    lines = ink.wrapped(content.service_words, room, 12.5, bold=True)[:2]
    for row, line in enumerate(lines):
        ink.left(LEFT, FOOT - 20 - 15 * row, line, 12.5, bold=True)
    ink.left(LEFT, FOOT - 23 - 15 * len(lines), *ink.squeezed(content.weighed, room, (9.5, 6.5)))
