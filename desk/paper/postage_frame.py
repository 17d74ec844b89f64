"""The frame at the upper right of a label: where stamps or a meter strip go, or that nothing is paid yet."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass, replace

from desk.paper.ink import Ink
from desk.paper.label_content import LabelContent, Payment, StampMark

STAMPS_HERE = "stamps here"
METER_HERE = "meter strip here"
NOT_PAID = "POSTAGE NOT PAID YET"
CAPTION = 6.0  # points; the least that stays readable at 203 dots to the inch (seen on rasters)
MOST_DRAWN = 12  # more stamps than this are drawn once a kind, with how many


@dataclass(frozen=True, slots=True)
class Frame:
    """Where the frame is (upper right corner), its least size, and the sizes of type and drawn stamps in it.

    `words_room` is the width the unpaid words may take; `captioned` says whether the kinds of stamps stand below them.
    """

    right: float
    top: float
    width: float
    height: float
    type_size: float
    stamp: tuple[float, float]
    rows: int
    words_room: float
    captioned: bool


def draw_frame(ink: Ink, content: LabelContent, frame: Frame) -> float:
    """Draw the frame; its left edge in points, so that the sender keeps clear of it."""
    if content.payment == Payment.COUNTER:
        return _not_paid(ink, frame)
    marks = drawn_marks(content.stamps) if content.payment == Payment.STAMPED else []
    columns = max(1, -(-len(marks) // frame.rows), min(len(marks), 2))
    wide, gap = _stamp_width(marks, frame), frame.type_size * 0.5
    width = max(frame.width, columns * (wide + gap) + gap)
    left = frame.right - width
    ink.box(left, frame.top - frame.height, width, frame.height, dash=(4, 2.5))
    words = STAMPS_HERE if content.payment == Payment.STAMPED else METER_HERE
    size = ink.size_for(words, width - 8, (frame.type_size, 6))
    ink.middle(left + width / 2, frame.top - frame.type_size * 1.5, words, size)
    if marks:
        caption = ink.wrapped(stamp_words(content.stamps), width - 6, CAPTION) if frame.captioned else []
        foot = len(caption) * CAPTION * 1.15
        for row, line in enumerate(caption):
            ink.middle(left + width / 2, frame.top - frame.height + foot - row * CAPTION * 1.15 - 4, line, CAPTION)
        _stamps(ink, marks, replace(frame, height=frame.height - foot), (left, width, columns))
    return left


def stamp_words(stamps: Sequence[StampMark]) -> str:
    """Which stamps to take from the drawer: `forever + 2 additional ounce`."""
    kinds = Counter(mark.words for mark in stamps).items()
    return " + ".join(words if times == 1 else f"{times} {words}" for words, times in kinds)


def drawn_marks(stamps: Sequence[StampMark]) -> list[tuple[str, int]]:
    """What each drawn stamp says and how many it stands for: one each, or one a kind when they are many."""
    if len(stamps) <= MOST_DRAWN:
        return [(mark.counts_for, 1) for mark in stamps]
    return list(Counter(mark.counts_for for mark in stamps).items())


def _stamps(ink: Ink, marks: list[tuple[str, int]], frame: Frame, place: tuple[float, float, int]) -> None:
    left, width, columns = place
    wide, high = _stamp_width(marks, frame), frame.stamp[1]
    gap = frame.type_size * 0.5
    rows = -(-len(marks) // columns)
    ground = frame.height - frame.type_size * 2 - gap
    high = min(high, ground / rows - gap)
    top = frame.top - frame.type_size * 2 - max(0.0, (ground - rows * (high + gap)) / 2)
    for at, (counts_for, times) in enumerate(marks):
        row, column = divmod(at, columns)
        in_row = min(columns, len(marks) - row * columns)
        x = left + (width - in_row * (wide + gap) + gap) / 2 + column * (wide + gap)
        y = top - (row + 1) * (high + gap) + gap
        ink.box(x, y, wide, high, dash=(1.5, 1.2))
        words = counts_for if times == 1 else f"{times} \u00d7 {counts_for}"
        size = ink.size_for(words, wide - 3, (min(12, high * 0.55), 4.5), bold=True)
        ink.middle(x + wide / 2, y + high / 2 - size * 0.36, words, size, bold=True)


def _stamp_width(marks: list[tuple[str, int]], frame: Frame) -> float:
    """Wider where one drawn stamp stands for several and says so."""
    return frame.stamp[0] * (1.8 if any(times > 1 for _, times in marks) else 1)


def _not_paid(ink: Ink, frame: Frame) -> float:
    """A plain frame with the words; solid, because nothing is to be stuck on before the counter."""
    lines = ink.wrapped(NOT_PAID, frame.words_room, frame.type_size * 1.2, bold=True)
    size = frame.type_size * 1.2
    width = max(frame.width, max(ink.width(line, size, bold=True) for line in lines) + 14)
    left = frame.right - width
    ink.box(left, frame.top - frame.height, width, frame.height)
    for row, line in enumerate(lines):
        y = frame.top - frame.height / 2 + size * (0.625 * len(lines) - 1 - 1.25 * row)
        ink.middle(left + width / 2, y, line, size, bold=True)
    return left
