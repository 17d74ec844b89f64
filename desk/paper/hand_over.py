"""Hand-over sheet: what leaves today, by destination, with totals, boxes to check and a line to sign."""

from __future__ import annotations

from dataclasses import dataclass
from io import BytesIO
from typing import BinaryIO

from desk.paper.ink import PageRecord
from desk.paper.press import Press, start
from desk.paper.sheet import SheetWriter
from desk.paper.stock import Box

SIZE, ROW = 10.0, 16.0
SMALL, SMALL_ROW = 8.5, 21.0
CLOSER = (0.9, 0.8)  # row heights tried to save a page, relative to the usual one
FEW = 6  # rows; fewer aren't left alone on the last page
HEADS = ("number", "to", "place", "weight", "postage", "form, extras")
# Column positions as fractions of the width after the check box: three texts, two right-aligned figures, one text.
LEFTS = (0.0, 0.17, 0.44)
RIGHTS = (0.70, 0.80)
MARK = 0.82
SIGNATURE = 52.0  # height


@dataclass(frozen=True, slots=True, kw_only=True)
class HandOverRow:
    """One piece. `billable` and `postage` as displayed; `mark` is a short note such as a customs form."""

    reference: str
    number: str
    recipient: str
    place: str
    billable: str
    postage: str
    mark: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class HandOverGroup:
    """Pieces that go the same way, such as stamped letters for the collection box, with their total in words."""

    heading: str
    rows: tuple[HandOverRow, ...]
    total: str


@dataclass(frozen=True, slots=True, kw_only=True)
class HandOverContent:
    """One hand-over. `total` is the total of all groups in words; `signature` labels the line to sign, if any.

    `acceptance` labels a line for the number that the post gives for the whole hand-over.
    """

    title: str
    date: str
    groups: tuple[HandOverGroup, ...]
    total: str
    signature: str = ""
    acceptance: str = ""
    notes: tuple[str, ...] = ()


def write_hand_over(content: HandOverContent, out: BinaryIO, press: Press) -> tuple[PageRecord, ...]:
    """Write the sheet. Return what is on its pages; empty when canceled.

    Rows are set closer together when that saves a page. When the last page would still have only a few rows, more of
    the rows before them move there too.
    """
    chosen = _written(content, press, 1.0)
    for pitch in CLOSER if len(chosen.pages) > 1 else ():
        closer = _written(content, press, pitch)
        if 0 < len(closer.pages) < len(chosen.pages):
            chosen = closer
            break
    if len(chosen.pages) > 1 and chosen.last_rows < FEW:
        chosen = _written(content, press, 1.0, together=FEW)
    if chosen.pages:
        out.write(chosen.document)
    return chosen.pages


@dataclass(frozen=True, slots=True)
class _Attempt:
    """A written sheet, what is on its pages, and how many rows are on the last one."""

    document: bytes
    pages: tuple[PageRecord, ...]
    last_rows: int = 0


def _written(content: HandOverContent, press: Press, pitch: float, together: int = 2) -> _Attempt:
    """Return the sheet with rows of this height; `together` rows at least are on the page with the sums."""
    out = BytesIO()
    document = start(out, press)
    groups = [group for group in content.groups if group.rows]
    if not groups:
        pages = document.finish()
        return _Attempt(out.getvalue(), pages)
    sheet = SheetWriter(document, lambda page: _head(page, content), pitch=pitch)
    sheet.open()
    on_page: list[int] = []  # the page of each row
    for place, group in enumerate(groups):
        if press.canceled():
            return _Attempt(b"", ())
        is_last = place == len(groups) - 1
        on_page += _group(sheet, group, together if is_last else 2, _closing(content) if is_last else 0.0)
        press.progress(len(on_page))
    _close(sheet, content)
    sheet.close()
    pages = document.finish()
    return _Attempt(out.getvalue(), pages, on_page.count(len(pages)))


def _head(sheet: SheetWriter, content: HandOverContent) -> None:
    ink = sheet.ink
    date = ink.size_for(content.date, sheet.room * 0.4, (12, 7))
    room = sheet.room - ink.width(content.date, date) - 12
    ink.left(sheet.left, sheet.y - 15, *ink.squeezed(content.title, room, (18, 8), bold=True), bold=True)
    ink.right(sheet.right, sheet.y - 15, content.date, date)
    ink.right(sheet.right, sheet.floor - 14, f"page {sheet.page}", 8)
    sheet.y -= 22


def _row_height(sheet: SheetWriter) -> float:
    return (SMALL_ROW if sheet.is_narrow else ROW) * sheet.pitch


def _closing(content: HandOverContent) -> float:
    """Return the height of total, notes and signature."""
    return 34 + 12.0 * len(content.notes) + SIGNATURE * sum(map(bool, (content.signature, content.acceptance)))


def _group(sheet: SheetWriter, group: HandOverGroup, together: int, after: float) -> list[int]:
    """Write a group with its rows and total. Return the page of each row.

    Its last `together` rows, or all of a shorter group, move to a new page together with what comes `after`.
    """
    high, pages = _row_height(sheet), []
    is_short = len(group.rows) <= together
    sheet.need((len(group.rows) + 1) * high + 50 + after if is_short else 3 * high + 50)
    sheet.heading(group.heading)
    _heads(sheet)
    for left, row in zip(range(len(group.rows) - 1, -1, -1), group.rows, strict=True):
        if sheet.need(high if left != together - 1 or is_short else (together + 1) * high + after):
            sheet.write(f"{group.heading}, continued", 9, bold=True)
            _heads(sheet)
        _row(sheet, row)
        pages.append(sheet.page)
    sheet.need(high)
    sheet.y -= ROW
    sheet.ink.right(sheet.right, sheet.y, *sheet.ink.squeezed(group.total, sheet.room, (SIZE + 1, 7)), bold=True)
    return pages


def _heads(sheet: SheetWriter) -> None:
    if not sheet.is_narrow:
        sheet.y -= 10
        _cells(sheet, HEADS, sheet.y, 7.5)


def _row(sheet: SheetWriter, row: HandOverRow) -> None:
    sheet.y -= _row_height(sheet)
    if not sheet.is_narrow:
        sheet.ink.box(Box(sheet.left, sheet.y - 1, 9, 9), 0.7)
        _cells(sheet, (row.number, row.recipient, row.place, row.billable, row.postage, row.mark), sheet.y, SIZE)
        return
    ink, x = sheet.ink, sheet.left + 16
    figures = " · ".join(filter(None, (row.billable, row.postage, row.mark)))
    half = (sheet.right - x) / 2
    ink.box(Box(sheet.left, sheet.y + 2, 9, 9), 0.7)
    ink.left(x, sheet.y + 8.3, *ink.squeezed(row.number, half - 4, (SMALL + 0.5, 6), bold=True), bold=True)
    ink.right(sheet.right, sheet.y + 8.3, *ink.squeezed(figures, half, (SMALL, 5.5)))
    ink.left(x, sheet.y, *ink.squeezed(f"{row.recipient}, {row.place}", sheet.right - x, (SMALL - 1, 6)))


def _cells(sheet: SheetWriter, cells: tuple[str, ...], y: float, most: float) -> None:
    start = sheet.left + 18
    room = sheet.right - start
    lefts, ends = (*LEFTS, MARK), (*LEFTS[1:], 0.62, 1.0)
    for left, end, words in zip(lefts, ends, (*cells[:3], cells[5]), strict=True):
        sheet.ink.left(
            start + left * room, y, *sheet.ink.squeezed(words, (end - left) * room - 6, (most, min(most, 8.0)))
        )
    for right, words in zip(RIGHTS, cells[3:5], strict=True):
        sheet.ink.right(start + right * room, y, *sheet.ink.squeezed(words, 0.08 * room, (most, 5)))


def _close(sheet: SheetWriter, content: HandOverContent) -> None:
    sheet.need(_closing(content))
    sheet.y -= 12
    sheet.ink.rule(sheet.left, sheet.y, sheet.right, 1)
    sheet.y -= 18
    sheet.ink.right(sheet.right, sheet.y, *sheet.ink.squeezed(content.total, sheet.room, (13, 7)), bold=True)
    sheet.y -= 4
    for note in content.notes:
        sheet.write(note, 9)
    for words in filter(None, (content.signature, content.acceptance)):
        sheet.need(SIGNATURE - 6)
        sheet.y -= SIGNATURE - 18
        sheet.ink.rule(sheet.left, sheet.y, sheet.right - (0 if sheet.is_narrow else 0.35 * sheet.room), 0.7)
        sheet.ink.left(sheet.left, sheet.y - 11, *sheet.ink.squeezed(words, sheet.room, (8, 6)))
