"""Proof: what a printer will put on paper, rendered, checked and read back before printing.

Each barcode is rendered at the printer's own resolution where it was drawn, decoded, and compared with its text. Each
text of the page must be within its page and its part of it, clear of other texts and of codes.
"""

from __future__ import annotations

import time
from collections import OrderedDict
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from enum import StrEnum
from math import ceil
from pathlib import Path
from threading import Lock
from typing import Any  # pypdfium2 and zxing-cpp have no full types

from desk.paper.ink import PageRecord
from desk.paper.pdfium import PDFIUM
from desk.paper.stock import Box, PageSize

ROUNDING = 1e-9  # 432 points at 300 dpi are 1800 dots; a rounding error must not make it 1801
EDGE = 1.0  # points between a text and the edge of its page or part
TOUCH = 1.0  # points by which two texts may overlap; their boxes are slightly larger than their ink
SHARE = 0.3  # of the lower text's height may overlap: marks of Thai or Hindi reach into the line above
KEPT = 20_000  # pages whose check is kept by what is drawn on them, about 4 MB


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
    """The faults found, how many codes are on the pages, and the processor time in seconds (0: nothing was new)."""

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


PageFaults = tuple[tuple[FaultKind, str], ...]
_kept: OrderedDict[tuple[bytes, int], PageFaults] = OrderedDict()  # by seal and resolution
_lock = Lock()


def prove(
    pdf: bytes, pages: Sequence[PageRecord], dpi: int = 203, canceled: Callable[[], bool] = lambda: False
) -> Proof | None:
    """Check every page. Return None when canceled. A page drawn exactly like an earlier one is not checked again."""
    began = time.thread_time()
    faults_of = _known(pages, dpi)
    fresh = [number for number, known in enumerate(faults_of) if known is None]
    for number, page in _open_pages(pdf, fresh):
        if canceled():
            return None
        record = pages[number]
        with PDFIUM:
            checked = faults_of[number] = (*_code_faults(record, page, dpi), *_text_faults(record, page))
            page.close()
        _keep(record, dpi, checked)
    faults = [
        PageFault(number, tuple(pages[number].references), kind, text)
        for number, known in enumerate(faults_of)
        for kind, text in known or ()
    ]
    codes = sum(len(record.codes) for record in pages)
    return Proof(tuple(faults), codes, time.thread_time() - began if fresh else 0.0)


def _known(pages: Sequence[PageRecord], dpi: int) -> list[PageFaults | None]:
    """Return what is known of each page from an equal one; None for a page to check."""
    with _lock:
        for key in ((record.seal, dpi) for record in pages):
            if key in _kept:
                _kept.move_to_end(key)
        return [_kept.get((record.seal, dpi)) for record in pages]


def _keep(record: PageRecord, dpi: int, checked: PageFaults) -> None:
    if not record.seal:
        return
    with _lock:
        _kept[record.seal, dpi] = checked
        if len(_kept) > KEPT:
            _kept.popitem(last=False)


def _code_faults(record: PageRecord, page: Any, dpi: int) -> Iterator[tuple[FaultKind, str]]:
    for text, box in record.codes:
        if decoded(page, record.size, box, dpi) != text:
            yield FaultKind.UNREAD, text
        if record.cells and not any(cell.holds(box, 0.5) for cell in record.cells):
            yield FaultKind.CUT, text


def _text_faults(record: PageRecord, page: Any) -> list[tuple[FaultKind, str]]:
    """Return each text that crosses an edge, a cut line, a code or another text."""
    import pypdfium2

    drawn = list(page.get_objects(filter=[pypdfium2.raw.FPDF_PAGEOBJ_TEXT]))
    bounds = [each.get_bounds() for each in drawn]
    boxes = [Box(left, bottom, right - left, top - bottom) for left, bottom, right, top in bounds]
    faults = list(_misplaced(record, boxes))
    if not faults:
        return []
    text = page.get_textpage()
    for each in drawn:
        each.textpage = text
    named = [(kind, drawn[index].extract().strip()) for index, kind in faults]
    text.close()
    return named


def _misplaced(record: PageRecord, boxes: Sequence[Box]) -> Iterator[tuple[int, FaultKind]]:
    """Yield the index of each misplaced text, with what is wrong."""
    width, height = record.size
    inside = Box(EDGE, EDGE, width - 2 * EDGE, height - 2 * EDGE)
    covered = _covered(boxes)
    for index, box in enumerate(boxes):
        if box.width <= 0 or box.height <= 0:  # blanks
            continue
        if not inside.holds(box):
            yield index, FaultKind.EDGE
        elif record.cells and not any(cell.holds(box) for cell in record.cells):
            yield index, FaultKind.CUT
        if index in covered or any(code.overlaps(box, TOUCH) for _, code in record.codes):
            yield index, FaultKind.OVERLAP


def _covered(boxes: Sequence[Box]) -> set[int]:
    """Return the indexes of texts that a later text covers; from the bottom up, so that only neighbors are compared."""
    upward = sorted(range(len(boxes)), key=lambda index: boxes[index].bottom)
    covered = set()
    for number, lower in enumerate(upward, 1):
        reach = boxes[lower].top - TOUCH
        for upper in upward[number:]:
            if boxes[upper].bottom >= reach:
                break
            if _collide(boxes[lower], boxes[upper]):
                covered.add(min(lower, upper))
    return covered


def _collide(one: Box, other: Box) -> bool:
    if not one.overlaps(other, TOUCH):
        return False
    shared = min(one.top, other.top) - max(one.bottom, other.bottom)
    return shared > SHARE * min(one.height, other.height)


def decoded(page: Any, size: PageSize, box: Box, dpi: int) -> str:
    """Return the text of the Code 128 in a box of an open page; empty when none can be read.

    Only the box is rendered, dot for dot as in the whole page: a tenth of the time.
    """
    import zxingcpp

    by = dpi / 72 - ROUNDING
    wide, high = (ceil(side * by) for side in size)
    upright = box.height > box.width
    box = Box(box.left + box.width / 4, box.bottom, box.width / 2, box.height) if upright else box
    left, right = max(0, int(box.left * by)), min(wide, ceil(box.right * by))
    bottom, top = max(0, int(box.bottom * by)), min(high, ceil(box.top * by))
    if left >= right or bottom >= top:
        return ""
    dots = _rendered(page, dpi, (left, bottom, wide - right, high - top))
    reader: Any = zxingcpp  # its stubs require arrays, but any buffer works
    view = reader.ImageView(dots.data, dots.width, dots.height, zxingcpp.ImageFormat.Lum, dots.stride)
    barcodes = reader.read_barcodes(
        view, formats=zxingcpp.BarcodeFormat.Code128, try_rotate=upright, try_downscale=False, try_invert=False
    )
    return str(barcodes[0].text) if barcodes else ""


def pages_in_dots(pdf: bytes | Path, dpi: int = 203) -> Iterator[Dots]:
    """Yield each page as the printer's dots, black or white."""
    for _, page in _open_pages(pdf):
        with PDFIUM:
            dots = _rendered(page, dpi)
            page.close()
        yield dots


def _open_pages(pdf: bytes | Path, only: Sequence[int] | None = None) -> Iterator[tuple[int, Any]]:
    """Yield pages with their numbers, counted from 0: all, or only these."""
    import pypdfium2

    if only is not None and not only:
        return
    with PDFIUM:
        document = pypdfium2.PdfDocument(pdf)
    try:
        for number in range(len(document)) if only is None else only:
            with PDFIUM:
                page = document[number]
            yield number, page
    finally:
        with PDFIUM:
            document.close()


def _rendered(page: Any, dpi: int, without: tuple[int, int, int, int] = (0, 0, 0, 0)) -> Dots:
    """Return a page as the printer's dots, without this many at its left, lower, right and upper edge."""
    by = dpi / 72 - ROUNDING
    crop = tuple(max(0.0, dots - 0.5) / by for dots in without)  # rounded up to whole dots again there
    picture = page.render(scale=by, grayscale=True, no_smoothpath=True, no_smoothtext=True, crop=crop)
    dots = Dots(picture.width, picture.height, picture.stride, bytes(picture.buffer))
    picture.close()
    return dots
