"""Proof: what a printer will put on paper, rendered, checked and read back before printing.

Every page is rendered at the printer's own resolution. Each barcode is decoded where it was drawn and compared with its
text; each text must be within its page and its part of it, clear of other texts and of codes.
"""

from __future__ import annotations

import hashlib
import time
from collections import OrderedDict
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from enum import StrEnum
from pathlib import Path
from threading import Lock
from typing import Any

from desk.paper.ink import PageRecord
from desk.paper.pdfium import PDFIUM
from desk.paper.stock import Box

ROUNDING = 1e-9  # 432 points at 300 dpi are 1800 dots; a rounding error must not make it 1801
EDGE = 1.0  # points between a text and the edge of its page or part
TOUCH = 1.0  # points by which two texts may overlap; their boxes are slightly larger than their ink
SHARE = 0.3  # of the lower text's height may overlap: marks of Thai or Hindi reach into the line above
KEPT = 24  # proofs cached by content


class FaultKind(StrEnum):
    """What is wrong with a page."""

    UNREAD = "unread"  # a code does not read back as its text
    OVERLAP = "overlap"
    EDGE = "edge"  # over the edge of the page
    CUT = "cut"  # over a cut line or a label's edge


@dataclass(frozen=True, slots=True)
class PageFault:
    """One fault: the page counted from 0, what is on it, the kind of fault, and the text concerned."""

    page: int
    references: tuple[str, ...]
    kind: FaultKind
    text: str


@dataclass(frozen=True, slots=True)
class Proof:
    """The faults found, how many codes were read, and the processor time in seconds (0: cached)."""

    faults: tuple[PageFault, ...]
    codes: int
    seconds: float


@dataclass(frozen=True, slots=True)
class Dots:
    """A page as gray levels, one byte per printer dot, rows from the top, `stride` bytes per row."""

    width: int
    height: int
    stride: int
    data: bytes

    def row(self, y: int) -> bytes:
        """Return one row of dots: 0 is black, 255 white."""
        return self.data[y * self.stride : y * self.stride + self.width]


_kept: OrderedDict[tuple[str, int], Proof] = OrderedDict()
_lock = Lock()


def prove(
    pdf: bytes, pages: Sequence[PageRecord], dpi: int = 203, canceled: Callable[[], bool] = lambda: False
) -> Proof | None:
    """Check every page. Return None when canceled. Proofs of the same bytes are cached."""
    key = (hashlib.sha256(pdf).hexdigest(), dpi)
    with _lock:
        if found := _kept.get(key):
            return Proof(found.faults, found.codes, 0.0)
    began = time.thread_time()
    faults: list[PageFault] = []
    codes = 0
    for number, (record, page) in enumerate(zip(pages, _open_pages(pdf), strict=True)):
        if canceled():
            return None
        codes += len(record.codes)
        with PDFIUM:
            dots, misplaced = _rendered(page, dpi), _text_faults(record, page)
            page.close()
        page_faults = (*_code_faults(record, dots, dpi), *misplaced)
        faults += [PageFault(number, tuple(record.references), kind, text) for kind, text in page_faults]
    proof = Proof(tuple(faults), codes, time.thread_time() - began)
    with _lock:
        _kept[key] = proof
        while len(_kept) > KEPT:
            _kept.popitem(last=False)
    return proof


def _code_faults(record: PageRecord, dots: Dots, dpi: int) -> Iterator[tuple[FaultKind, str]]:
    for text, box in record.codes:
        if decoded(dots, box, dpi) != text:
            yield FaultKind.UNREAD, text
        if record.cells and not any(cell.holds(box, 0.5) for cell in record.cells):
            yield FaultKind.CUT, text


def _text_faults(record: PageRecord, page: Any) -> list[tuple[FaultKind, str]]:
    """Return each text that crosses an edge, a cut line, a code or another text."""
    import pypdfium2

    drawn = list(page.get_objects(filter=[pypdfium2.raw.FPDF_PAGEOBJ_TEXT]))
    bounds = [each.get_bounds() for each in drawn]
    boxes = [Box(left, bottom, right - left, top - bottom) for left, bottom, right, top in bounds]
    faults = [(place, kind) for place in range(len(boxes)) for kind in _misplaced(record, boxes, place)]
    if not faults:
        return []
    text = page.get_textpage()
    for each in drawn:
        each.textpage = text
    named = [(kind, drawn[place].extract().strip()) for place, kind in faults]
    text.close()
    return named


def _misplaced(record: PageRecord, boxes: list[Box], place: int) -> Iterator[FaultKind]:
    box, (width, height) = boxes[place], record.size
    if box.width <= 0 or box.height <= 0:  # blanks
        return
    if not Box(EDGE, EDGE, width - 2 * EDGE, height - 2 * EDGE).holds(box):
        yield FaultKind.EDGE
    elif record.cells and not any(cell.holds(box) for cell in record.cells):
        yield FaultKind.CUT
    if any(code.overlaps(box, TOUCH) for _, code in record.codes) or any(
        _collide(box, other) for other in boxes[place + 1 :]
    ):
        yield FaultKind.OVERLAP


def _collide(one: Box, other: Box) -> bool:
    if not one.overlaps(other, TOUCH):
        return False
    shared = min(one.top, other.top) - max(one.bottom, other.bottom)
    return shared > SHARE * min(one.height, other.height)


def decoded(dots: Dots, box: Box, dpi: int) -> str:
    """Return the text of the Code 128 in a box of the page; empty when none can be read."""
    import zxingcpp

    by = dpi / 72
    upright = box.height > box.width
    box = Box(box.left + box.width / 4, box.bottom, box.width / 2, box.height) if upright else box
    left, top = max(0, int(box.left * by)), max(0, dots.height - int(-(-box.top * by // 1)))
    wide = min(dots.width, int(-(-box.right * by // 1))) - left
    high = min(dots.height, dots.height - int(box.bottom * by)) - top
    if wide <= 0 or high <= 0:
        return ""
    reader: Any = zxingcpp  # its stubs require arrays, but any buffer works
    rows = (at * dots.stride + left for at in range(top, top + high))
    part = b"".join(dots.data[start : start + wide] for start in rows)
    view = reader.ImageView(part, wide, high, zxingcpp.ImageFormat.Lum)
    found = reader.read_barcodes(
        view, formats=zxingcpp.BarcodeFormat.Code128, try_rotate=upright, try_downscale=False, try_invert=False
    )
    return str(found[0].text) if found else ""


def pages_in_dots(pdf: bytes | Path, dpi: int = 203) -> Iterator[Dots]:
    """Yield each page as the printer's dots, black or white."""
    for page in _open_pages(pdf):
        with PDFIUM:
            dots = _rendered(page, dpi)
            page.close()
        yield dots


def _open_pages(pdf: bytes | Path) -> Iterator[Any]:
    import pypdfium2

    with PDFIUM:
        document = pypdfium2.PdfDocument(pdf)
    try:
        for number in range(len(document)):
            with PDFIUM:
                page = document[number]
            yield page
    finally:
        with PDFIUM:
            document.close()


def _rendered(page: Any, dpi: int) -> Dots:
    picture = page.render(scale=dpi / 72 - ROUNDING, grayscale=True, no_smoothpath=True, no_smoothtext=True)
    dots = Dots(picture.width, picture.height, picture.stride, bytes(picture.buffer))
    picture.close()
    return dots
