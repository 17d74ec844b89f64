"""Pictures of pages for the screen: only the pages somebody looks at are drawn."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from desk.paper.pdfium import PDFIUM

POINTS_IN_INCH = 72


@dataclass(frozen=True, slots=True)
class Picture:
    """A page as pixels: three bytes each (red, green, blue), rows from the top, `stride` bytes a row."""

    width: int
    height: int
    stride: int
    rgb: bytes


class PagePictures:
    """An open PDF. `sizes` are the pages' widths and heights in points; ValueError when it is no PDF."""

    def __init__(self, pdf: bytes) -> None:
        import pypdfium2

        with PDFIUM:
            try:
                self._document: Any = pypdfium2.PdfDocument(pdf)
            except pypdfium2.PdfiumError as error:
                raise ValueError("not a PDF") from error
            self.sizes: tuple[tuple[float, float], ...] = tuple(
                self._document.get_page_size(number) for number in range(len(self._document))
            )

    def __len__(self) -> int:
        return len(self.sizes)

    def picture(self, number: int, dpi: float) -> Picture:
        """One page, counted from nought, drawn at so many pixels an inch; IndexError when there is none."""
        if not 0 <= number < len(self.sizes):
            raise IndexError(number)
        with PDFIUM:
            page = self._document[number]
            drawn = page.render(scale=dpi / POINTS_IN_INCH, rev_byteorder=True)
            picture = Picture(drawn.width, drawn.height, drawn.stride, bytes(drawn.buffer))
            drawn.close()
            page.close()
        return picture

    def close(self) -> None:
        """Let the document go."""
        with PDFIUM:
            self._document.close()
