"""Read the barcodes of a paper back."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path
from typing import Any

import zxingcpp

from desk.paper.proof import pages_in_dots


def codes_on_pages(pdf: bytes | Path, dpi: int = 203) -> Iterator[tuple[str, ...]]:
    """Yield the texts of all Code 128 barcodes of each page, from the top; an empty tuple for a page without any."""
    reader: Any = zxingcpp  # its stubs require arrays, but any buffer works
    for dots in pages_in_dots(pdf, dpi):
        view = reader.ImageView(dots.data, dots.width, dots.height, zxingcpp.ImageFormat.Lum, dots.stride)
        found = reader.read_barcodes(view, formats=zxingcpp.BarcodeFormat.Code128)
        yield tuple(code.text for code in sorted(found, key=lambda code: int(code.position.top_left.y)))
