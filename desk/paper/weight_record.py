"""A record of what was weighed and measured for one package, on one page, to contest a carrier's adjustment."""

from __future__ import annotations

from dataclasses import dataclass
from typing import BinaryIO

from desk.paper.ink import PageRecord
from desk.paper.press import Press
from desk.paper.sheet import SheetWriter, write_sheets

SIZE = 10.0


@dataclass(frozen=True, slots=True, kw_only=True)
class WeightRecord:
    """One package's record: `lines` are labels with their values, `limits` what the page shows and what it doesn't."""

    reference: str
    title: str
    lines: tuple[tuple[str, str], ...]
    limits: tuple[str, ...]


def write_weight_record(content: WeightRecord, out: BinaryIO, press: Press) -> tuple[PageRecord, ...]:
    """Write the record. Return what is on its pages; empty when canceled."""
    return write_sheets([content], out, press, _head, _body)


def _head(content: WeightRecord, sheet: SheetWriter) -> None:
    sheet.ink.left(
        sheet.left, sheet.y - 15, *sheet.ink.squeezed(content.title, sheet.room, (18, 8), bold=True), bold=True
    )
    sheet.y -= 34


def _body(content: WeightRecord, sheet: SheetWriter) -> None:
    for label, value in content.lines:
        sheet.need(34)
        sheet.write(label, SIZE - 1.5)
        sheet.write(value, SIZE + 1, bold=True)
        sheet.y -= 6
    sheet.y -= 8
    for words in content.limits:
        sheet.write(words, SIZE)
