"""Customs worksheet: what a person types, or reads aloud, where a customs declaration is made electronically.

It is not a form and does not look like one: the post takes only electronic declarations, and its own paper worksheet
only helps the clerk to type (Postal Bulletin 22555; IMM 123.11). The groups follow that worksheet's order (PS 2976-R:
description, quantity, net weight, value; totals; email addresses), plus the gross weight of PS 2976-A, block 7.
"""

from __future__ import annotations

from collections.abc import Iterable
from typing import BinaryIO

from desk.paper.ink import PageRecord
from desk.paper.keying.keying_content import KeyingLine, KeyingSheetContent
from desk.paper.keying.keying_fields import also_asked
from desk.paper.press import Press
from desk.paper.sheet import SheetWriter, write_sheets
from desk.paper.stock import Box

WIDE_TYPE, NARROW_TYPE = 13.0, 9.5  # points: readable at arm's length, and as large as a label allows
# Right edges of the columns after the description, as fractions of the width between the margins.
COLUMNS = (0.37, 0.52, 0.61, 0.76, 0.87, 1.0)
HEADS = ("quantity", "net lb oz", "net kg", "value", "HS code", "origin")
DESCRIPTION_PART = 0.29
NO_FORM = "For typing into the online form. Not a customs form: do not put it on the package."


LEARNED = "(learned)"  # a net weight from past weighings
NOT_COMPLETE = "NOT COMPLETE: fix this before you key it in"


def write_keying_sheets(contents: Iterable[KeyingSheetContent], out: BinaryIO, press: Press) -> tuple[PageRecord, ...]:
    """Write the worksheets, starting a page for each piece. Return what is on the pages; empty when canceled."""
    return write_sheets(contents, out, press, _head, _body)


def _body(content: KeyingSheetContent, sheet: SheetWriter) -> None:
    _incomplete(sheet, content)
    _people(sheet, content)
    _goods(sheet, content)
    _totals(sheet, content)
    _rest(sheet, content)


def _type(sheet: SheetWriter) -> float:
    return NARROW_TYPE if sheet.is_narrow else WIDE_TYPE


def _head(content: KeyingSheetContent, sheet: SheetWriter) -> None:
    """Write number and code at the top of every page, with the page number from the second page on."""
    ink = sheet.ink
    high = 24.0 if sheet.is_narrow else 34.0
    wide = ink.code_width(content.reference, sheet.room * 0.62)
    if wide:
        ink.code(content.reference, Box(sheet.right - wide + 8, sheet.y - high, wide + 1, high))
    words = content.order if sheet.page == 1 else f"{content.order}, page {sheet.page}"
    room = sheet.room - wide
    ink.left(sheet.left, sheet.y - high + 8, *ink.squeezed(words, room, (high, 8), bold=True), bold=True)
    ink.left(sheet.left, sheet.y - high - 10, *ink.squeezed(content.title, sheet.room - 70, (10, 6)))
    ink.right(sheet.right, sheet.y - high - 10, *ink.squeezed(content.reference, 66, (9, 5)))
    ink.left(sheet.left, sheet.floor - 14, *ink.squeezed(NO_FORM, sheet.room, (8, 6)))
    sheet.y -= high + 18


def _incomplete(sheet: SheetWriter, content: KeyingSheetContent) -> None:
    """Write what must be fixed above everything else, so that no one submits a false declaration."""
    if content.to_fix:
        sheet.heading(NOT_COMPLETE)
        for words in content.to_fix:
            sheet.write(words, _type(sheet), bold=True)


def _people(sheet: SheetWriter, content: KeyingSheetContent) -> None:
    """Draw sender left and recipient right, each with names, phone and email, as the online form asks first."""
    sheet.heading("From, and to")
    size, top, half = _type(sheet), sheet.y, sheet.room / 2
    lowest = top
    sides = (
        (sheet.left, content.sender, content.sender_fields, content.sender_phone, content.sender_email),
        (
            sheet.left + half,
            content.recipient,
            content.recipient_fields,
            content.recipient_phone,
            content.recipient_email,
        ),
    )
    for x, lines, party, phone, email in sides:
        named = (("First name", party.first_name), ("Last name", party.last_name), ("Phone", phone), ("Email", email))
        y = top
        for line in (*lines, *(f"{name}: {words}" for name, words in named if words)):
            for part in sheet.ink.wrapped(line, half - 10, size):
                y -= size * 1.3
                sheet.ink.left(x, y, part, size)
        lowest = min(lowest, y)
    sheet.y = lowest - 6
    sheet.heading("Reason for export")
    sheet.write(" · ".join(filter(None, (content.category, content.form))), size)


def _goods(sheet: SheetWriter, content: KeyingSheetContent) -> None:
    sheet.heading("Contents")
    if sheet.is_narrow:
        for line in content.lines:
            _narrow_line(sheet, line)
        return
    _heads(sheet)
    for line in content.lines:
        parts = sheet.ink.wrapped(line.description, sheet.room * DESCRIPTION_PART, WIDE_TYPE)
        if sheet.need((len(parts) + 1) * WIDE_TYPE * 1.3):
            _heads(sheet)
        top = sheet.y - WIDE_TYPE
        for row, part in enumerate(parts):
            sheet.ink.left(sheet.left, top - row * WIDE_TYPE * 1.25, part, WIDE_TYPE)
        _cells(sheet, (line.quantity, _net(line), line.net_kg, line.value, line.hs, line.origin), top)
        sheet.y = top - (len(parts) - 1) * WIDE_TYPE * 1.25 - 6


def _narrow_line(sheet: SheetWriter, line: KeyingLine) -> None:
    """Write the description, then its figures on their own line."""
    facts = (
        f"{line.quantity} pcs",
        _net(line),
        line.net_kg,
        line.value,
        f"HS {line.hs}" if line.hs else "",
        f"from {line.origin}" if line.origin else "",
    )
    sheet.need(4 * NARROW_TYPE * 1.3)
    sheet.write(line.description, NARROW_TYPE, bold=True)
    sheet.write(" · ".join(filter(None, facts)), NARROW_TYPE, x=sheet.left + 10)
    sheet.y -= 3


def _net(line: KeyingLine) -> str:
    return f"{line.net_lb_oz} {LEARNED}" if line.net_is_learned and line.net_lb_oz else line.net_lb_oz


def _heads(sheet: SheetWriter) -> None:
    y = sheet.y - 9
    sheet.ink.left(sheet.left, y, "description", 8)
    for part, words in zip(COLUMNS, HEADS, strict=True):
        sheet.ink.right(sheet.left + part * sheet.room, y, words, 8)
    sheet.y = y - 4


def _cells(sheet: SheetWriter, cells: tuple[str, ...], y: float, *, bold: bool = False) -> None:
    left = sheet.left + DESCRIPTION_PART * sheet.room
    for part, words in zip(COLUMNS, cells, strict=True):
        right = sheet.left + part * sheet.room
        sheet.ink.right(
            right, y, *sheet.ink.squeezed(words, right - left - 5, (WIDE_TYPE - 1, 6), bold=bold), bold=bold
        )
        left = right


def _totals(sheet: SheetWriter, content: KeyingSheetContent) -> None:
    sheet.need(60)
    sheet.ink.rule(sheet.left, sheet.y - 2, sheet.right, 0.5)
    net = (content.total_net_lb_oz, content.total_net_kg, content.total_value)
    gross = (content.gross_lb_oz, content.gross_kg, "")
    sheet.y -= 5
    for name, figures in (("Total net", net), ("Total weight", gross)):
        if sheet.is_narrow:
            sheet.write(f"{name}: " + " · ".join(filter(None, figures)), NARROW_TYPE, bold=True)
            continue
        y = sheet.y - WIDE_TYPE
        sheet.ink.left(sheet.left, y, name, WIDE_TYPE, bold=True)
        _cells(sheet, ("", *figures, "", ""), y, bold=True)
        sheet.y = y - WIDE_TYPE * 0.6


def _rest(sheet: SheetWriter, content: KeyingSheetContent) -> None:
    size = _type(sheet)
    sheet.heading("Also asked")
    for name, words in also_asked(content):
        if words:
            sheet.need(size * 1.3)
            sheet.ink.left(sheet.left, sheet.y - size, name, 8 if sheet.is_narrow else 9)
            sheet.write(words, size, x=sheet.left + (88 if sheet.is_narrow else 120))
    _sentences(sheet, "Check first", content.findings, min(size, 11))
    _sentences(sheet, "Before you sign", content.cautions, min(size, 10))


def _sentences(sheet: SheetWriter, heading: str, sentences: tuple[str, ...], size: float) -> None:
    if sentences:
        sheet.heading(heading)
        for words in sentences:
            sheet.write(words, size)
