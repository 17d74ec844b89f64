"""Packing slip: what the buyer finds in the package. A gift's slip shows no prices."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from typing import BinaryIO

from desk.paper.ink import PageRecord
from desk.paper.press import Press
from desk.paper.sheet import SheetWriter, write_sheets
from desk.paper.stock import Box

CODE_HIGH = 18.0


@dataclass(frozen=True, slots=True, kw_only=True)
class PackingLine:
    """One line of the contents. `price` is empty on a gift."""

    quantity: str
    item: str
    price: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class PackingSlipContent:
    """One packing slip. `sums` are (name, amount), empty on a gift; `more` says in how many packages the order ships.

    `package_of` is empty for an order in one package.
    """

    order: str
    reference: str
    package_of: str
    sender: tuple[str, ...]
    recipient: tuple[str, ...]
    lines: tuple[PackingLine, ...]
    sums: tuple[tuple[str, str], ...] = ()
    date: str = ""
    heading: str = "In this package"
    thanks: str = ""
    more: str = ""


def write_packing_slips(contents: Iterable[PackingSlipContent], out: BinaryIO, press: Press) -> tuple[PageRecord, ...]:
    """Write the packing slips, starting a page for each. Return what is on the pages; empty when canceled."""
    return write_sheets(contents, out, press, _head, _lines)


def _head(content: PackingSlipContent, sheet: SheetWriter) -> None:
    """Write the shop and the order, in short on further pages."""
    ink, size = sheet.ink, 9.5 if sheet.is_narrow else 12.0
    name, *rest = content.sender or ("",)
    ink.left(sheet.left, sheet.y - 14, *ink.squeezed(name, sheet.room * 0.7, (size + 4, 8), bold=True), bold=True)
    number = f"Order {content.order}" if sheet.page == 1 else f"Order {content.order}, page {sheet.page}"
    sheet.y -= 20
    if sheet.page == 1:
        sheet.write(" · ".join(rest), size - 2)
        sheet.y -= 6
    sheet.write(" · ".join(filter(None, (number, content.package_of, content.date))), size, bold=True)
    if sheet.page == 1:
        sheet.y -= 4
        for line in content.recipient:
            sheet.write(line, size)
    _foot(sheet, content)
    sheet.heading(content.heading, size)


def _foot(sheet: SheetWriter, content: PackingSlipContent) -> None:
    """Write our code small at the foot, to match the slip with its package."""
    ink, low = sheet.ink, sheet.floor - 12
    wide = ink.code_width(content.reference, sheet.room * 0.7)
    if wide:
        ink.code(content.reference, Box(sheet.left - 6, low, wide + 1, CODE_HIGH))
    ink.right(sheet.right, low + 4, *ink.squeezed(content.reference, sheet.room - wide, (8, 5.5)))
    sheet.floor += CODE_HIGH - 4


def _lines(content: PackingSlipContent, sheet: SheetWriter) -> None:
    size = 9.5 if sheet.is_narrow else 12.0
    for line in content.lines:
        price = sheet.ink.width(line.price, size) + 10 if line.price else 0.0
        parts = sheet.ink.wrapped(line.item, sheet.room - price - 28, size)
        sheet.need(len(parts) * size * 1.3 + 4)
        top = sheet.y - size - 2
        sheet.ink.left(sheet.left, top, *sheet.ink.squeezed(f"{line.quantity} ×", 26, (size, 6)))
        if line.price:
            sheet.ink.right(sheet.right, top, line.price, size)
        for row, part in enumerate(parts):
            sheet.ink.left(sheet.left + 28, top - row * size * 1.25, part, size)
        sheet.y = top - (len(parts) - 1) * size * 1.25 - 3
    _sums(sheet, content, size)
    for words, bold in ((content.more, False), (content.thanks, True)):
        if words:
            sheet.y -= 8
            sheet.write(words, size, bold=bold)


def _sums(sheet: SheetWriter, content: PackingSlipContent, size: float) -> None:
    if not content.sums:
        return
    sheet.need(len(content.sums) * size * 1.4 + 8)
    sheet.y -= 5
    sheet.ink.rule(sheet.left, sheet.y, sheet.right, 0.5)
    for row, (name, amount) in enumerate(content.sums):
        bold = row == len(content.sums) - 1
        sheet.y -= size * 1.4
        amount_wide = sheet.ink.width(amount, size, bold=bold)
        sheet.ink.right(sheet.right, sheet.y, amount, size, bold=bold)
        sheet.ink.right(sheet.right - amount_wide - 14, sheet.y, name, size, bold=bold)
