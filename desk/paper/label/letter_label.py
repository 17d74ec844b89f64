"""Labels for letters: a small one (4 × 2 in) for any envelope, and a wide one (a sideways 4 × 6 in) for large ones.

Nothing may be below the address of a letter: the machine reads the area from 5/8 to 2 3/4 in above the bottom edge and
1/2 in from the sides, and the post prints its own code in the lower right corner, 4 3/4 in wide and 5/8 in high (DMM
202.2.1; Publication 28, Appendix A1). Everything else is above the address, or in the strip at the left edge.
"""

from __future__ import annotations

from collections.abc import Sequence

from desk.paper.ink import Ink
from desk.paper.label.address_block import AddressTooLong, draw_address, fitted
from desk.paper.label.label_content import LabelContent, PostageMark
from desk.paper.label.postage_corner import NOT_PAID, corner_size, draw_corner, stamp_words
from desk.paper.label.strip import LETTER_STRIP, TAG_STRIP, draw_letter_strip, draw_strip, letter_strip_has_code
from desk.paper.stock import INCH, Box, PageSize

SMALL = (4 * INCH, 2 * INCH)
WIDE = (6 * INCH, 4 * INCH)
EDGE = 6.0
LEFT = LETTER_STRIP + 8
MOST = 14.0  # points, address on the small label
MOST_WIDE = 18.0
SENDER_LINES = 4
HEAD = 38.0  # height of the sender on the small label
READ_LOW, READ_HIGH = 0.625 * INCH, 2.75 * INCH  # read area of a letter


def draw_small(ink: Ink, content: LabelContent) -> None:
    """Draw a letter's small label; on stock of that size every piece gets it."""
    width, height = ink.size
    top = draw_address(ink, content.recipient, _best(ink, content), MOST, low=True)
    if not draw_letter_strip(ink, content):
        top = BAND + BAND_HIGH
        ink.code(content.reference, Box(LEFT, BAND, width - EDGE - LEFT, BAND_HIGH))
    corner = _small_corner(ink, content)
    if corner is not None:
        draw_corner(ink, content, corner)
    right = corner.left - 6 if corner is not None else width - EDGE
    _sender(ink, content.sender, (LEFT, height - EDGE, right - LEFT))
    y = height - HEAD - 8
    lines, size = _notes(ink, content, corner, (right - LEFT, y - top))
    for row, line in enumerate(lines):
        ink.left(LEFT, y - row * NOTE_LEADING * size, line, size, bold=True)


def _notes(ink: Ink, content: LabelContent, corner: Box | None, room: tuple[float, float]) -> tuple[list[str], float]:
    """Return remarks, stamps and service as lines for `room` (width, height below the first base line), and their size.

    The service is left out where it would be too small or close to the address, and stamps give way to their amount
    and then to the remarks; remarks are never cut.
    """
    loose = _loose_postage(content, corner)
    notes = [*content.remarks, *loose]
    tried = [([*notes, content.service_words], size, 3.0) for size in (8.5, 8.0, 7.5, 7.0, 6.5)]
    tried += [(notes, size, 0.0) for size in (8.5, 8.0, 7.5, 7.0, 6.5, 6.0, 5.5)]
    if loose and content.payment is PostageMark.STAMPED:
        amount = f"{content.postage} in stamps" if content.postage else ""
        tried += [([*content.remarks, *rest], 5.5, 0.0) for rest in ([amount], [])]
    lines: list[str] = []
    for parts, size, clear in tried:
        lines = _joined(ink, [part for part in parts if part], room[0], size)
        if ((len(lines) - 1) * NOTE_LEADING + 0.3) * size + clear <= room[1]:
            break
    return lines, size


def _joined(ink: Ink, parts: Sequence[str], room: float, size: float) -> list[str]:
    """Return the parts with dots between them, on as many lines as they need."""
    lines: list[str] = []
    for part in parts:
        if lines and ink.width(f"{lines[-1]} · {part}", size, bold=True) <= room:
            lines[-1] += f" · {part}"
        else:
            lines += ink.wrapped(part, room, size, bold=True)
    return lines


def small_address_boxes(ink: Ink, content: LabelContent) -> tuple[Box, ...]:
    """Return the small label's address areas: below the corner at full width, or left of it and taller."""
    width, height = ink.size
    corner = _small_corner(ink, content)
    top = height - HEAD - 15 if letter_strip_has_code(ink, content) else BAND - 2
    under = min(top, corner.bottom - CORNER_GAP if corner is not None else top)
    wide = Box(LEFT + 4, 3, width - EDGE - LEFT - 4, under - 3)
    if corner is None or under == top:
        return (wide,)
    return wide, Box(LEFT + 4, 3, corner.left - 6 - LEFT - 4, top - 3)


def _best(ink: Ink, content: LabelContent) -> Box:
    """Return the area that allows larger type. Raises AddressTooLong when neither fits."""
    sized = []
    for box in small_address_boxes(ink, content):
        try:
            sized.append((fitted(ink, content.recipient, (box.width, box.height), MOST)[0], box))
        except AddressTooLong:
            continue
    if not sized:
        raise AddressTooLong(" / ".join(content.recipient))
    return max(sized, key=lambda pair: pair[0])[1]


def _small_corner(ink: Ink, content: LabelContent) -> Box | None:
    """Return the corner of a small label; None when it doesn't fit, and stamps go on the envelope."""
    width, height = ink.size
    if content.payment is not PostageMark.STAMPED:
        wide, high = 76.0, 50.0
    else:
        wide, high = corner_size(content, columns=2)
        if high > STAMP_ROOM or not stamp_words(content) or not letter_strip_has_code(ink, content):
            return None
    if width - EDGE - wide - LEFT < LEAST_LEFT:
        return None
    return Box(width - EDGE - wide, height - EDGE - high, wide, high)


LEAST_LEFT = 72.0  # points for sender and remarks beside the corner
CORNER_GAP = 5.0  # points between the corner's marks and the address
NOTE_LEADING = 1.24  # line height of remarks and service, in type sizes
STAMP_ROOM = 84.0  # points below the top edge of a small label
BAND, BAND_HIGH = 66.0, 17.0  # where a code too long for the strip goes


def _loose_postage(content: LabelContent, corner: Box | None) -> list[str]:
    if corner is not None or content.payment in (PostageMark.METERED, PostageMark.PAID):
        return []
    if content.payment is PostageMark.COUNTER:
        return [NOT_PAID]
    words = stamp_words(content)
    return ["Stamps: " + " ".join(words)] if words else []


def _sender(ink: Ink, lines: Sequence[str], place: tuple[float, float, float]) -> None:
    """Write at most four sender lines from the top; beyond that, the two shortest neighbors share a line."""
    left, top, room = place
    shown = list(lines)
    while len(shown) > SENDER_LINES:
        at = min(range(1, len(shown) - 1), key=lambda index: len(shown[index]) + len(shown[index + 1]))
        shown[at : at + 2] = [f"{shown[at]}, {shown[at + 1]}"]
    for row, line in enumerate(shown):
        words, size = ink.squeezed(line, room, (7.0, 5), bold=row == 0)
        ink.left(left, top - 7 - row * 8.4, words, size, bold=row == 0)


def wide_address_box(size: PageSize) -> Box:
    """Return the address area of a wide label: inside the read area, right of the strip."""
    left = TAG_STRIP + 40
    return Box(left, READ_LOW + 4, size[0] - 0.5 * INCH - left, READ_HIGH - READ_LOW - 8)


def draw_wide(ink: Ink, content: LabelContent) -> None:
    """Draw a letter's label 6 in wide and 4 in high."""
    width, height = ink.size
    draw_strip(ink, content)
    left = TAG_STRIP + 12
    wide, high = corner_size(content, columns=3)
    corner = Box(width - 10 - wide, height - 10 - high, wide, min(high, height - 14 - READ_HIGH))
    if high > corner.height:
        corner = Box(corner.left, height - 10 - corner.height, wide, corner.height)
    draw_corner(ink, content, corner)
    room = corner.left - 8 - left
    for row, line in enumerate(content.sender[:5]):
        words, size = ink.squeezed(line, room, (9, 6), bold=row == 0)
        ink.left(left, height - 19 - row * 11, words, size, bold=row == 0)
    notes = [part for part in (*content.remarks, content.service_words) if part]
    for size in (10.0, 9.0, 8.0, 7.0, 6.0):
        lines = _joined(ink, notes, room, size)
        if len(lines) <= (1 if size > 8 else 2):
            break
    for row, line in enumerate(reversed(lines)):
        ink.left(left, READ_HIGH + 6 + row * 1.2 * size, line, size, bold=True)
    draw_address(ink, content.recipient, wide_address_box(ink.size), MOST_WIDE, low=False)
