"""Keying sheet: what a person reads aloud, or types off, where a customs declaration is made by machine.

It is no form and looks like none: the post takes only declarations made electronically, and its own paper worksheet
merely feeds the clerk's keyboard (Postal Bulletin 22555; IMM 123.11). The order of the groups is that worksheet's
(PS 2976-R: description, quantity, net weight, value; totals; e-mail addresses), with the gross weight that
PS 2976-A asks for in block 7.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from typing import BinaryIO

from desk.paper.dots import code_width, draw_code
from desk.paper.ink import Ink
from desk.paper.press import LETTER, Press, write_pages
from desk.paper.sheet import EDGE, FLOOR, RIGHT, Sheet

SIZE = 13.0  # points: readable at arm's length
# Right edges of the columns after the description: quantity, net lb/oz, net kg, value, HS code, origin.
COLUMNS = (250.0, 326.0, 378.0, 460.0, 534.0, RIGHT)
HEADS = ("how many", "net lb oz", "net kg", "value", "HS code", "origin")
DESCRIPTION_ROOM = 160.0


@dataclass(frozen=True, slots=True, kw_only=True)
class KeyingLine:
    """One line of goods, in words: the whole line's net weight and value."""

    description: str
    quantity: str
    net_kg: str
    net_lb_oz: str
    value: str
    hs: str = ""
    origin: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class KeyingSheetContent:
    """One piece abroad. Texts are ready to read; a tax number comes masked. Empty texts are left out."""

    order: str
    reference: str
    title: str
    form: str
    category: str
    sender: tuple[str, ...]
    recipient: tuple[str, ...]
    lines: tuple[KeyingLine, ...]
    total_value: str
    total_net_lb_oz: str
    total_net_kg: str
    gross_lb_oz: str
    gross_kg: str
    sender_email: str = ""
    sender_phone: str = ""
    recipient_email: str = ""
    recipient_phone: str = ""
    export_citation: str = ""
    tax_id: str = ""
    findings: tuple[str, ...] = ()
    cautions: tuple[str, ...] = ()


def write_keying_sheets(contents: Iterable[KeyingSheetContent], out: BinaryIO, press: Press) -> int:
    """Write the sheets, each piece on pages of its own; how many pages."""
    return write_pages(contents, out, press, LETTER, _draw)


def _draw(ink: Ink, content: KeyingSheetContent) -> None:
    sheet = Sheet(ink, lambda page: _head(page, content))
    sheet.open()
    _people(sheet, content)
    _goods(sheet, content)
    _totals(sheet, content)
    _rest(sheet, content)


def _head(sheet: Sheet, content: KeyingSheetContent) -> None:
    """Number and code on top of every page, the page number where there is more than one."""
    ink = sheet.ink
    wide = code_width(content.reference, 260, ink.grid) or 0.0
    if wide:
        draw_code(ink.canvas, content.reference, (RIGHT - wide + 10, sheet.y - 34, wide + 1, 34), ink.grid)
    words = content.order if sheet.page == 1 else f"{content.order}, page {sheet.page}"
    ink.left(EDGE, sheet.y - 26, *ink.squeezed(words, RIGHT - EDGE - wide, (34, 9), bold=True), bold=True)
    ink.left(EDGE, sheet.y - 44, *ink.squeezed(content.title, RIGHT - EDGE - wide, (10, 6)))
    ink.right(RIGHT, sheet.y - 44, content.reference, 9)
    ink.left(EDGE, FLOOR - 26, NO_FORM, 8)
    sheet.y -= 52


NO_FORM = "To read aloud or to type from. This sheet is no customs form: do not stick it on the piece."


def _people(sheet: Sheet, content: KeyingSheetContent) -> None:
    """Sender left, addressee right, as they stand on the worksheet's first lines."""
    sheet.heading("From, and to")
    top, half = sheet.y, (RIGHT - EDGE) / 2
    lowest = top
    for x, lines in ((EDGE, content.sender), (EDGE + half, content.recipient)):
        y = top
        for line in lines:
            for part in sheet.ink.wrapped(line, half - 10, SIZE):
                y -= SIZE * 1.3
                sheet.ink.left(x, y, part, SIZE)
        lowest = min(lowest, y)
    sheet.y = lowest - 6
    sheet.heading("What it is for")
    sheet.write(" · ".join(filter(None, (content.category, content.form))), SIZE)


def _goods(sheet: Sheet, content: KeyingSheetContent) -> None:
    sheet.heading("What is in it")
    _heads(sheet)
    for line in content.lines:
        parts = sheet.ink.wrapped(line.description, DESCRIPTION_ROOM, SIZE)
        if sheet.need((len(parts) + 1) * SIZE * 1.3):
            _heads(sheet)
        top = sheet.y - SIZE
        for row, part in enumerate(parts):
            sheet.ink.left(EDGE, top - row * SIZE * 1.25, part, SIZE)
        _cells(sheet, (line.quantity, line.net_lb_oz, line.net_kg, line.value, line.hs, line.origin), top)
        sheet.y = top - (len(parts) - 1) * SIZE * 1.25 - 6


def _heads(sheet: Sheet) -> None:
    y = sheet.y - 9
    sheet.ink.left(EDGE, y, "description", 8)
    for right, words in zip(COLUMNS, HEADS, strict=True):
        sheet.ink.right(right, y, words, 8)
    sheet.y = y - 4


def _cells(sheet: Sheet, cells: tuple[str, ...], y: float, *, bold: bool = False) -> None:
    left = EDGE + DESCRIPTION_ROOM
    for right, words in zip(COLUMNS, cells, strict=True):
        size = sheet.ink.size_for(words, right - left - 5, (SIZE - 1, 6), bold=bold)
        sheet.ink.right(right, y, words, size, bold=bold)
        left = right


def _totals(sheet: Sheet, content: KeyingSheetContent) -> None:
    sheet.need(60)
    sheet.ink.rule(EDGE, sheet.y - 2, RIGHT, 0.5)
    y = sheet.y - SIZE - 6
    sheet.ink.left(EDGE, y, "together, net", SIZE, bold=True)
    cells = ("", content.total_net_lb_oz, content.total_net_kg, content.total_value, "", "")
    _cells(sheet, cells, y, bold=True)
    y -= SIZE * 1.6
    sheet.ink.left(EDGE, y, "packed, on the scale", SIZE, bold=True)
    _cells(sheet, ("", content.gross_lb_oz, content.gross_kg, "", "", ""), y, bold=True)
    sheet.y = y - 4


def _rest(sheet: Sheet, content: KeyingSheetContent) -> None:
    facts = (
        ("sender's e-mail", content.sender_email),
        ("sender's telephone", content.sender_phone),
        ("addressee's e-mail", content.recipient_email),
        ("addressee's telephone", content.recipient_phone),
        ("export filing", content.export_citation),
        ("tax number", content.tax_id),
    )
    sheet.heading("What else is asked")
    for name, words in facts:
        if words:
            sheet.need(SIZE * 1.3)
            sheet.ink.left(EDGE, sheet.y - SIZE, name, 9)
            sheet.write(words, SIZE, x=EDGE + 120)
    _sentences(sheet, "To look at first", content.findings, 11)
    _sentences(sheet, "Before you sign", content.cautions, 10)


def _sentences(sheet: Sheet, heading: str, sentences: tuple[str, ...], size: float) -> None:
    if sentences:
        sheet.heading(heading)
        for words in sentences:
            sheet.write(words, size)
