"""The small label of a letter: 4 x 2 in, the address lowest.

On a letter nothing may stand below the address: the machine reads the area from 5/8 to 2 3/4 in above the bottom edge
and the post prints its own code below it (DMM 202.2.1; Publication 28, Appendix A1). Number, ounces and code stand
above the address and as far from it as can be.
"""

from __future__ import annotations

from desk.paper.address_block import draw_address
from desk.paper.dots import code_width, draw_code
from desk.paper.ink import Ink
from desk.paper.label_content import LabelContent, Payment
from desk.paper.postage_frame import Frame, draw_frame, stamp_words
from desk.paper.press import SMALL

EDGE = 9.0
FRAME = Frame(
    right=SMALL[0] - EDGE,
    top=SMALL[1] - 6,
    width=58,
    height=56,
    type_size=7,
    stamp=(16, 20),
    rows=3,
    words_room=56,
    captioned=False,
)
ADDRESS = (EDGE + 20, 4.0, SMALL[0] - 2 * EDGE - 20, 66.0)
MOST = 13.0  # points, address
LOW, HIGH = 84.0, 23.0  # the band of the code


def draw_small(ink: Ink, content: LabelContent) -> None:
    """Draw a letter's label on a page of 4 x 2 in."""
    room = draw_frame(ink, content, FRAME) - EDGE - 8
    _sender(ink, content, room)
    _number(ink, content, room)
    draw_address(ink, content.recipient, ADDRESS, MOST, low=True)


def _sender(ink: Ink, content: LabelContent, room: float) -> None:
    """At most four lines; of more, the two neighbours that are shortest together share one."""
    lines = list(content.sender)
    while len(lines) > 4:
        at = min(range(1, len(lines) - 1), key=lambda place: len(lines[place]) + len(lines[place + 1]))
        lines[at : at + 2] = [f"{lines[at]}, {lines[at + 1]}"]
    pitch = min(8.2, 27 / max(len(lines), 1))
    for row, line in enumerate(lines):
        words, size = ink.squeezed(line, room, (pitch * 0.87, 5), bold=row == 0)
        ink.left(EDGE, SMALL[1] - 13 - row * pitch, words, size, bold=row == 0)


def _number(ink: Ink, content: LabelContent, room: float) -> None:
    """Code, number and ounces between sender and address; a long number stands in the line below the code."""
    wide = code_width(content.reference, room, ink.grid) or 0.0
    words = f"{content.order}   {content.billable}"
    beside = room - wide
    x, size = EDGE, 9.0
    if wide:
        draw_code(ink.canvas, content.reference, (EDGE, LOW, wide + 1, HIGH), ink.grid)
    if ink.width(words, 10, bold=True) <= beside:
        ink.left(EDGE + wide, LOW + 8, *ink.squeezed(words, beside, (15, 10), bold=True), bold=True)
    else:
        size = ink.size_for(words, SMALL[0] - 2 * EDGE, (size, 6), bold=True)
        ink.left(x, LOW - 10, words, size, bold=True)
        x += ink.width(words, size, bold=True) + 8
    _small(ink, content, x)


def _small(ink: Ink, content: LabelContent, x: float) -> None:
    """Stamps to take, remarks, and where the piece stands, the last left out where the line is full."""
    stamps = stamp_words(content.stamps) if content.payment == Payment.STAMPED else ""
    room = SMALL[0] - EDGE - x
    for places in ((content.piece_of, content.batch_words), (content.piece_of,), ()):
        words = " · ".join(filter(None, (*content.remarks, stamps, *places)))
        if ink.width(words, 6) <= room:
            break
    ink.left(x, LOW - 10, *ink.squeezed(words, room, (6.5, 4.5)))
