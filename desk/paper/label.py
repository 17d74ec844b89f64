"""Label: what goes on a piece. A 4 x 6 in page for parcels and large envelopes, a 4 x 2 in page for letters.

Black on white, and nothing on it that could be taken for paid postage: the frame at the upper right is empty ground
for stamps or a meter strip, or says that the postage is not paid yet.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from typing import BinaryIO

from desk.paper import small_label
from desk.paper.address_block import block_fits, draw_address
from desk.paper.dots import Grid, code_width, draw_code
from desk.paper.ink import Ink
from desk.paper.label_content import LabelContent
from desk.paper.postage_frame import Frame, draw_frame
from desk.paper.press import LABEL, SMALL, Press, write_pages

EDGE = 14.5
RIGHT = LABEL[0] - EDGE
FRAME = Frame(
    right=RIGHT,
    top=LABEL[1] - 12,
    width=72,
    height=82,
    type_size=8.5,
    stamp=(24, 29),
    rows=3,
    words_room=140,
    captioned=True,
)
ADDRESS = (EDGE + 20, 188.0, RIGHT - EDGE - 20, 120.0)
MOST = 19.0  # points, address


def write_labels(contents: Iterable[LabelContent], out: BinaryIO, press: Press) -> int:
    """Write a page for each label; how many pages. GlyphMissing or AddressTooLong: ask before, see `address_fits`."""
    return write_pages(contents, out, press, LABEL, _draw)


def address_fits(lines: Sequence[str], press: Press, *, letter: bool) -> bool:
    """True when the address can be written on its label at eight point; GlyphMissing as ever."""
    _, _, width, height = small_label.ADDRESS if letter else ADDRESS
    return block_fits(Ink(None, press.fonts, Grid(press.dpi)), lines, (width, height))  # measured, not drawn


def _draw(ink: Ink, content: LabelContent) -> None:
    if content.letter:
        ink.canvas.setPageSize(SMALL)
        small_label.draw_small(ink, content)
        return
    room = draw_frame(ink, content, FRAME) - EDGE - 10
    _head(ink, content, room)
    ink.rule(EDGE, 327, RIGHT)
    ink.left(EDGE, 313, "To", 8.5)
    draw_address(ink, content.recipient, ADDRESS, MOST)
    ink.rule(EDGE, 182, RIGHT)
    _number(ink, content)
    _foot(ink, content)


def _head(ink: Ink, content: LabelContent, room: float) -> None:
    """Sender from the top, remarks above the rule."""
    pitch = min(13.0, 66.0 / max(len(content.sender), 1))
    for row, line in enumerate(content.sender):
        words, size = ink.squeezed(line, room, (min(10.5, pitch / 1.2), 6), bold=row == 0)
        ink.left(EDGE, LABEL[1] - 25 - row * pitch, words, size, bold=row == 0)
    words = " · ".join(content.remarks)
    ink.left(EDGE, 336, *ink.squeezed(words, room, (12, 6), bold=True), bold=True)


def _number(ink: Ink, content: LabelContent) -> None:
    """Order number and ounces side by side while the number stays large, else below each other."""
    room = RIGHT - EDGE
    ounces = ink.width(content.billable, 29, bold=True)
    size = ink.size_for(content.order, room - ounces - 16, (68, 8), bold=True)
    if size >= 40:
        ink.left(EDGE, 140 - size * 0.36, content.order, size, bold=True)
        ink.right(RIGHT, 140, content.billable, 29, bold=True)
        rest = room - ink.width(content.order, size, bold=True) - 12
        ink.right(RIGHT, 120, *ink.squeezed(content.service_words, rest, (11, 6)))
        return
    size = ink.size_for(content.order, room, (38, 8), bold=True)
    ink.left(EDGE, 165 - size * 0.55, content.order, size, bold=True)
    ink.left(EDGE, 113, content.billable, 27, bold=True)
    rest = room - ink.width(content.billable, 27, bold=True) - 12
    ink.right(RIGHT, 113, *ink.squeezed(content.service_words, rest, (11, 6)))


def _foot(ink: Ink, content: LabelContent) -> None:
    """Barcode with its text, and where the piece stands in order and batch."""
    wide = code_width(content.reference, LABEL[0] - 8, ink.grid)
    if wide:
        draw_code(ink.canvas, content.reference, ((LABEL[0] - wide) / 2, 47, wide + 1, 50), ink.grid)
    ink.middle(LABEL[0] / 2, 33, *ink.squeezed(content.reference, RIGHT - EDGE, (9.5, 5)))
    ink.rule(EDGE, 23, RIGHT, 0.75)
    ink.left(EDGE, 10, content.piece_of, 8.5)
    rest = RIGHT - EDGE - ink.width(content.piece_of, 8.5) - 12
    ink.right(RIGHT, 10, *ink.squeezed(content.batch_words, rest, (8.5, 5)))
