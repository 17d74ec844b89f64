"""Images of pages for the screen, drawn only when visible; and the rest of a PDF from one page on."""

from __future__ import annotations

from dataclasses import dataclass
from io import BytesIO
from typing import Any  # pypdfium2 has no types

from desk.paper.pdfium import PDFIUM

POINTS_IN_INCH = 72


def from_page_on(pdf: bytes, first: int) -> bytes:
    """Return a PDF from one page on, counted from 1, so that after a jam only these are printed again."""
    import pypdfium2

    out = BytesIO()
    with PDFIUM:
        whole, part = pypdfium2.PdfDocument(pdf), pypdfium2.PdfDocument.new()
        part.import_pages(whole, list(range(first - 1, len(whole))))
        part.save(out)
        part.close()
        whole.close()
    return out.getvalue()


@dataclass(frozen=True, slots=True)
class Picture:
    """A page as pixels: three bytes each (red, green, blue), rows from the top, `stride` bytes per row."""

    width: int
    height: int
    stride: int
    rgb: bytes


class PagePictures:
    """An open PDF. `sizes` are the pages' widths and heights in points. Raises ValueError when it is not a PDF."""

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
        """Return one page, counted from 0, at that many pixels per inch. Raises IndexError when there is none."""
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
        """Close the document."""
        with PDFIUM:
            self._document.close()
