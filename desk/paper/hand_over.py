"""Hand-over sheet: what leaves the bench today, by where it goes, with sums; US letter pages to tick off."""

from __future__ import annotations

from dataclasses import dataclass
from typing import BinaryIO

from desk.paper.ink import Ink
from desk.paper.press import LETTER, Press, finish, say_empty, start, turn
from desk.paper.sheet import EDGE, FLOOR, RIGHT, Sheet

SIZE = 10.0
ROW = 17.0
HEADS = ("order", "to", "place", "ounces", "postage", "mark")
# Left edges of three texts, right edges of two figures, left edge of the mark; a box to tick stands first.
LEFTS = (EDGE + 18, 138.0, 280.0)
RIGHTS = (420.0, 466.0)
MARK = 476.0


@dataclass(frozen=True, slots=True, kw_only=True)
class HandOverRow:
    """One piece. `billable` and `postage` as shown; `mark` a short remark such as a tracking number's end."""

    order: str
    recipient: str
    place: str
    billable: str
    postage: str
    mark: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class HandOverGroup:
    """Pieces that go the same way, e.g. all stamped letters to the collection box, and their sum in words."""

    heading: str
    rows: tuple[HandOverRow, ...]
    total: str


@dataclass(frozen=True, slots=True, kw_only=True)
class HandOverContent:
    """One hand-over. `total` is the sum of all groups in words; `signature` names the line to sign, if any."""

    title: str
    date: str
    groups: tuple[HandOverGroup, ...]
    total: str
    signature: str = ""
    notes: tuple[str, ...] = ()


def write_hand_over(content: HandOverContent, out: BinaryIO, press: Press) -> int:
    """Write the sheet; how many pages, 0 when cancelled."""
    ink = start(out, press, LETTER)
    if not any(group.rows for group in content.groups):
        say_empty(ink, press, LETTER)
        return finish(ink)
    sheet = Sheet(ink, lambda page: _head(page, content))
    sheet.open()
    done = 0
    for group in content.groups:
        if press.cancelled():
            return 0
        _group(sheet, group)
        done += len(group.rows)
        press.progress(done)
    _close(sheet, content)
    turn(ink)
    return finish(ink)


def _head(sheet: Sheet, content: HandOverContent) -> None:
    ink = sheet.ink
    ink.left(EDGE, sheet.y - 16, *ink.squeezed(content.title, 330, (18, 9), bold=True), bold=True)
    ink.right(RIGHT, sheet.y - 16, *ink.squeezed(content.date, 180, (12, 7)))
    ink.right(RIGHT, FLOOR - 24, f"page {sheet.page}", 9)
    sheet.y -= 26


def _group(sheet: Sheet, group: HandOverGroup) -> None:
    if not group.rows:
        return
    sheet.need(90)
    sheet.heading(group.heading)
    _heads(sheet)
    for row in group.rows:
        if sheet.need(ROW):
            sheet.write(group.heading, 9, bold=True)
            _heads(sheet)
        _row(sheet, row)
    sheet.need(ROW)
    sheet.y -= ROW
    sheet.ink.right(RIGHT, sheet.y, *sheet.ink.squeezed(group.total, RIGHT - EDGE, (SIZE + 1, 7)), bold=True)


def _heads(sheet: Sheet) -> None:
    sheet.y -= 10
    _cells(sheet.ink, HEADS, sheet.y, 7.5)


def _row(sheet: Sheet, row: HandOverRow) -> None:
    sheet.y -= ROW
    sheet.ink.canvas.setLineWidth(0.7)
    sheet.ink.canvas.rect(EDGE, sheet.y - 1, 9, 9)
    _cells(sheet.ink, (row.order, row.recipient, row.place, row.billable, row.postage, row.mark), sheet.y, SIZE)


def _cells(ink: Ink, cells: tuple[str, ...], y: float, most: float) -> None:
    texts = (*cells[:3], cells[5])
    for x, end, words in zip((*LEFTS, MARK), (*LEFTS[1:], 378.0, RIGHT + 6), texts, strict=True):
        ink.left(x, y, *ink.squeezed(words, end - x - 6, (most, min(most, 8.0))))
    for right, words in zip(RIGHTS, cells[3:5], strict=True):
        ink.right(right, y, *ink.squeezed(words, 42, (most, 5)))


def _close(sheet: Sheet, content: HandOverContent) -> None:
    sheet.need(90)
    sheet.y -= 12
    sheet.ink.rule(EDGE, sheet.y, RIGHT, 1)
    sheet.y -= 20
    sheet.ink.right(RIGHT, sheet.y, *sheet.ink.squeezed(content.total, RIGHT - EDGE, (13, 7)), bold=True)
    sheet.y -= 10
    for note in content.notes:
        sheet.write(note, 9)
    if content.signature:
        sheet.need(50)
        sheet.y -= 40
        sheet.ink.rule(EDGE, sheet.y, EDGE + 230, 0.7)
        sheet.ink.left(EDGE, sheet.y - 11, content.signature, 8)
