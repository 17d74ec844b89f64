"""Streamed: a PDF in English whose pages go into the file as they are finished, so memory doesn't grow with their number.

The page library keeps every page, about 10 kB for a label, and joins them all when saving. Here a page is written at
once and forgotten; fonts, the page tree, and the table of offsets follow at the end.
"""

from __future__ import annotations

import zlib
from array import array
from hashlib import blake2b
from typing import Any, BinaryIO  # reportlab has no types

from reportlab import rl_config
from reportlab.lib.rl_accel import escapePDF
from reportlab.pdfbase.pdfdoc import PDFDocument, PDFResourceDictionary
from reportlab.pdfbase.pdfmetrics import getFont
from reportlab.pdfgen.canvas import Canvas

from desk.paper.stock import PageSize

rl_config.useA85 = 0  # raw bytes: a fifth smaller than ASCII
# Four bytes over 127 say that the file is binary: ISO 32000-1, 7.5.2.
HEADER = b"%%PDF-%d.%d\n%%\xe2\xe3\xcf\xd3\n"
KEPT = 1000  # encoded texts; most texts of a label are on the next one too


class StreamedCanvas(Canvas):  # type: ignore[misc]
    """The page library's canvas, on a streamed document of pages of one `size`, with a quicker way to write a text."""

    def __init__(self, out: BinaryIO, size: PageSize) -> None:
        super().__init__(out, pagesize=size, invariant=1)
        self._doc = StreamedDocument(out)
        self._encoded: dict[tuple[str, str], list[tuple[str, str]]] = {}

    def _make_preamble(self) -> None:
        self._preamble = ""  # the library's own names a font that isn't embedded

    def write(self, x: float, y: float, text: str, face: str, size: float) -> None:
        """Write a text that needs no shaping, to the right from a point."""
        parts = self._encoded.get((text, face))
        if parts is None:
            if len(self._encoded) >= KEPT:
                self._encoded.clear()
            parts = self._encoded[text, face] = self._encode(text, face)
        shown = " ".join([f"{name} {size:g} Tf ({codes}) Tj" for name, codes in parts])
        self._code.append(f"BT 1 0 0 1 {x:.3f} {y:.3f} Tm {shown} ET")

    def _encode(self, text: str, face: str) -> list[tuple[str, str]]:
        """Return the text's codes in each part of its font that the document embeds."""
        font, document = getFont(face), self._doc
        return [
            (font.getSubsetInternalName(part, document), escapePDF(codes))
            for part, codes in font.splitString(text, document)
        ]


class StreamedDocument(PDFDocument):  # type: ignore[misc]
    """The page library's document, which writes each page to `out` when the canvas has finished it."""

    def __init__(self, out: BinaryIO) -> None:
        super().__init__(compression=1, invariant=1, lang="en-US")
        self._out = out
        self._length = 0
        self._offsets = array("Q", [0])  # of each object, by number
        self._digest = blake2b(digest_size=16)
        resources = PDFResourceDictionary()
        resources.basicFonts()
        resources.basicProcs()
        self._shared = [self.Reference(part).format(self) for part in (self.Pages, resources)]
        self._write(HEADER % self._pdfVersion)

    def addPage(self, page: Any) -> None:  # noqa: N802 - the canvas calls it
        """Write a finished page and its drawing; keep only the page's number. Images are not written."""
        if page.XObjects:
            raise NotImplementedError("no paper has an image")
        number = self.objectcounter + 1
        self.objectcounter += 2
        drawing = zlib.compress(page.stream.encode())
        self._write_object(
            number,
            b"<< /Type /Page /Parent %b /Resources %b /MediaBox [0 0 %.6g %.6g] /Contents %d 0 R >>"
            % (*self._shared, page.pagewidth, page.pageheight, number + 1),
        )
        self._write_object(
            number + 1, b"<< /Filter /FlateDecode /Length %d >>\nstream\n%b\nendstream" % (len(drawing), drawing)
        )
        self.Pages.pages.append(b"%d 0 R" % number)

    def format(self) -> bytes:
        """Write the remaining objects. Return the end of the file."""
        root, info = (self.Reference(part).format(self) for part in (self.Catalog, self.info))
        number = 0
        while number < self.objectcounter:  # formatting an object can register more
            number += 1
            if name := self.numberToId.get(number):
                self._write_object(number, self.idToObject[name].format(self))
        table = b"".join(b"%010d 00000 n \n" % offset for offset in self._offsets[1:])
        identity = self._digest.hexdigest().encode()
        return (
            b"xref\n0 %d\n0000000000 65535 f \n%btrailer\n<< /Size %d /Root %b /Info %b /ID [<%b> <%b>] >>\n"
            b"startxref\n%d\n%%%%EOF\n"
        ) % (number + 1, table, number + 1, root, info, identity, identity, self._length)

    def _write_object(self, number: int, content: bytes) -> None:
        self._offsets.extend([0] * (number + 1 - len(self._offsets)))
        self._offsets[number] = self._length
        self._write(b"%d 0 obj\n%b\nendobj\n" % (number, content))

    def _write(self, part: bytes) -> None:
        self._out.write(part)
        self._digest.update(part)
        self._length += len(part)
