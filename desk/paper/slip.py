"""Number slip: stays with a package until it is labeled. Number, contents, and the ounces or a box for them."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from typing import BinaryIO

from desk.paper.ink import Ink, PageRecord
from desk.paper.press import PageForm, Press, write_forms
from desk.paper.stock import INCH, Box, StockKind

SMALL = (4 * INCH, 2 * INCH)
EDGE = 9.0
ITEM = (14.0, 8.0)  # type sizes of the items
LEAST = 6.0
LEAST_FOOT = 27.0  # points from the lower edge to the line above marks and recipient


@dataclass(frozen=True, slots=True, kw_only=True)
class SlipContent:
    """One slip. `billable` is the weight to write; before weighing it is empty, and a box is drawn.

    `items` lists the contents, one per line; `marks` what to watch for, such as `GIFT` or `ABROAD`.
    """

    order: str
    reference: str
    piece_of: str
    billable: str
    status: str
    recipient_short: str
    items: tuple[str, ...] = ()
    mailer: str = ""
    dimensions: str = ""
    marks: tuple[str, ...] = ()


def write_slips(contents: Iterable[SlipContent], out: BinaryIO, press: Press) -> tuple[PageRecord, ...]:
    """Write the slips, one on each label, or many to a page with cut lines. Return what is on the pages."""
    alone = not (press.several or press.stock.kind is StockKind.PLAIN)
    label = press.stock.labels()[0]
    form: PageForm[SlipContent] = PageForm(
        (label.width, label.height) if alone else SMALL, _draw, several=press.several
    )
    return write_forms(contents, out, press, lambda _content: form)


def _draw(ink: Ink, content: SlipContent) -> None:
    width, height = ink.size
    head, code = (58.0, 26.0) if height > 1.5 * SMALL[1] else (38.0, 17.0)
    low = height - EDGE - head + 3
    _number(ink, content, Box(EDGE, low, width - 2 * EDGE, head))
    ink.rule(EDGE, low - 3, width - EDGE, 0.8)
    low = _code_and_facts(ink, content, low - 5, code)
    if low < LEAST_FOOT:  # a label of an inch has only number, ounces and code, a larger one the marks too
        marks = " · ".join(content.marks) if low >= LEAST_FOOT - 10 else ""
        ink.left(EDGE, 6, *ink.squeezed(marks, width - 2 * EDGE, (8, LEAST), bold=True), bold=True)
        return
    foot = _foot(ink, content)
    if low - foot >= LEAST:
        _items(ink, content.items, Box(EDGE, foot, width - 2 * EDGE, low - foot))


def _number(ink: Ink, content: SlipContent, box: Box) -> None:
    """Write the number on the left, the ounces or their box on the right; a long number goes above them."""
    most = box.height * 1.2
    ounces = ink.size_for(content.billable, box.width * 0.36, (box.height * 0.62, 14), bold=True)
    wide = ink.width(content.billable, ounces, bold=True) if content.billable else box.width * 0.3
    size = ink.size_for(content.order, box.width - wide - 14, (most, 8), bold=True)
    if size >= box.height * 0.5:
        ink.left(box.left, box.bottom + (box.height - size * 0.72) / 2, content.order, size, bold=True)
        _ounces(ink, content.billable, Box(box.right - wide, box.bottom + 2, wide, box.height - 2), ounces)
        return
    upper = box.height * 0.46
    size = ink.size_for(content.order, box.width, (upper * 1.1, 8), bold=True)
    words, size = ink.squeezed(content.order, box.width, (size, 8), bold=True)
    ink.left(box.left, box.top - size * 0.8, words, size, bold=True)
    _ounces(ink, content.billable, Box(box.right - wide, box.bottom + 1, wide, box.height - upper - 3), upper)


def _ounces(ink: Ink, billable: str, box: Box, size: float) -> None:
    if billable:
        size = ink.size_for(billable, box.width + 1, (min(size, box.height * 1.2), 8), bold=True)
        ink.right(box.right, box.bottom + (box.height - size * 0.72) / 2, billable, size, bold=True)
    else:
        ink.box(Box(box.left, box.bottom, box.width, box.height), 1)
        ink.right(box.right - 4, box.bottom + 4, "oz", 9)


def _code_and_facts(ink: Ink, content: SlipContent, top: float, high: float) -> float:
    """Draw the code with mailer and piece next to it, or below a long code. Return the height where this ends."""
    width = ink.size[0]
    wide = ink.code_width(content.reference, width - 8)
    facts = [word for word in (content.piece_of, content.mailer, content.dimensions) if word]
    if wide:
        ink.code(content.reference, Box(4, top - high, wide + 1, high))
    room = width - EDGE - wide - 6
    if wide and room > 80:
        pitch = high / max(len(facts), 2)
        for row, words in enumerate(facts):
            size = min(9.0, pitch * 0.82)
            ink.left(wide + 6, top - (row + 0.85) * pitch, *ink.squeezed(words, room, (size, LEAST)))
        return top - high - 3
    low = top - (high + 3 if wide else 0)
    if low < LEAST_FOOT + 12:
        return low
    ink.left(EDGE, low - 8, *ink.squeezed(" · ".join(facts), width - 2 * EDGE, (9, LEAST)))
    return low - 12


def _foot(ink: Ink, content: SlipContent) -> float:
    """Write marks and recipient at the foot. Return the height they take."""
    width, height = ink.size
    low, room, small, large = 6.0, width - 2 * EDGE, 8.0, 9.0
    if height > 1.5 * SMALL[1]:
        small, large = 10.0, 14.0
    ink.left(EDGE, low, *ink.squeezed(f"{content.reference} · {content.recipient_short}", room, (small, LEAST)))
    words = " · ".join((*content.marks, content.status))
    ink.left(EDGE, low + small + 2, *ink.squeezed(words, room, (large, LEAST), bold=True), bold=True)
    return low + small + large + 3


def _items(ink: Ink, items: tuple[str, ...], box: Box) -> None:
    """Write as many items as fit, each on one line, then `+ 2 more` for the rest."""
    most, least = ITEM
    size = min(most, max(least, box.height / max(len(items), 1) / 1.24))
    rows = max(1, int(box.height / (size * 1.22)))
    listed = list(items if len(items) <= rows else items[: max(rows - 1, 0)])
    left_out = len(items) - len(listed)
    if left_out and listed:
        listed.append(f"+ {left_out} more")
    elif left_out:
        listed = [f"{items[0]} + {left_out - 1} more" if left_out > 1 else items[0]]
    for row, words in enumerate(listed):
        ink.left(box.left, box.top - (row + 0.9) * size * 1.22, *ink.squeezed(words, box.width, (size, LEAST)))
