"""Proof: what a printer will put on paper, looked at and read back before it goes out.

Pages are rendered at the printer's own dots, black or white, and every barcode on them is decoded.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from io import BytesIO
from pathlib import Path
from typing import Any

from desk.paper.pdfium import PDFIUM
from desk.paper.press import PageSize

THRESHOLD = 128  # of 255: darker is a dot
ROUNDING = 1e-9  # 432 points at 300 dpi are 1800 dots; the division's last bit must not make a 1801st


def codes_on_pages(pdf: bytes | Path, dpi: int = 203) -> Iterator[tuple[str, ...]]:
    """The texts of the Code 128 barcodes of each page, from the top; an empty tuple for a page without any."""
    import zxingcpp

    for dots in pages_in_dots(pdf, dpi):
        found = zxingcpp.read_barcodes(dots, formats=zxingcpp.BarcodeFormats(zxingcpp.BarcodeFormat.Code128))
        yield tuple(code.text for code in sorted(found, key=lambda code: int(code.position.top_left.y)))


def unread(
    pdf: bytes | Path, references: Sequence[str], dpi: int = 203, cancelled: Callable[[], bool] = lambda: False
) -> list[str]:
    """The references whose page (the first for the first, and so on) does not read back as that very text."""
    pages = codes_on_pages(pdf, dpi)
    lost = []
    for reference in references:
        if cancelled():
            break
        if reference not in next(pages, ()):
            lost.append(reference)
    return lost


def pages_in_dots(pdf: bytes | Path, dpi: int = 203) -> Iterator[Any]:
    """Each page as rows of 0 (black) and 255 (white), one number a dot of the printer."""
    import numpy as np
    import pypdfium2

    with PDFIUM:
        document = pypdfium2.PdfDocument(pdf)
    try:
        for number in range(len(document)):
            with PDFIUM:
                page = document[number]
                picture = page.render(scale=dpi / 72 - ROUNDING, grayscale=True, no_smoothpath=True, no_smoothtext=True)
                dots = picture.to_numpy().reshape(picture.height, picture.width)
                black_or_white = np.ascontiguousarray(np.where(dots < THRESHOLD, 0, 255).astype(np.uint8))
                picture.close()
                page.close()
            yield black_or_white
    finally:
        with PDFIUM:
            document.close()


def by_page_size(pdf: bytes) -> dict[PageSize, bytes]:
    """The document taken apart by page size in points, pages in their order: a queue gets one medium at a time."""
    from pypdf import PdfReader, PdfWriter

    parts: dict[PageSize, PdfWriter] = {}
    for page in PdfReader(BytesIO(pdf)).pages:
        size = (float(page.mediabox.width), float(page.mediabox.height))
        parts.setdefault(size, PdfWriter()).add_page(page)
    return {size: _bytes(writer) for size, writer in parts.items()}


def _bytes(writer: Any) -> bytes:
    out = BytesIO()
    writer.write(out)
    return out.getvalue()
