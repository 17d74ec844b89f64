"""SheetWriter: writes a page of any size from the top down, and continues on a new page when full."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass, field
from functools import partial
from typing import BinaryIO, Protocol, TypeVar

from desk.paper.ink import Ink, PageRecord
from desk.paper.press import Document, Press, start

NARROW = 450.0  # points; a narrower page has small margins, and its tables use two lines per row


@dataclass(slots=True)
class SheetWriter:
    """Writes downwards; `y` is the last base line. `head` is drawn at the top of each page. Sizes are in points."""

    document: Document
    head: Callable[[SheetWriter], None]
    reference: str = ""
    pitch: float = 1.0  # row height of tables, relative to the usual one
    y: float = 0.0
    page: int = field(default=0)
    left: float = 0.0
    right: float = 0.0
    floor: float = 0.0

    @property
    def ink(self) -> Ink:
        """Return the open page."""
        return self.document.page

    @property
    def is_narrow(self) -> bool:
        """Return True on labels, which have small margins and two-line table rows."""
        return self.ink.size[0] < NARROW

    @property
    def room(self) -> float:
        """Return the width between the margins."""
        return self.right - self.left

    def open(self) -> None:
        """Start a page."""
        width, height = self.document.open().size
        if self.reference:
            self.document.pages[-1].references.append(self.reference)
        edge = 12.0 if self.is_narrow else 45.0
        self.left, self.right, self.floor = edge, width - edge, 24.0 if self.is_narrow else 54.0
        self.page += 1
        self.y = height - edge
        self.head(self)

    def close(self) -> None:
        """End the last page."""
        self.document.close()

    def need(self, height: float) -> bool:
        """Start a new page when less than `height` points are left. Return True when it did."""
        if self.y - height >= self.floor:
            return False
        self.close()
        self.open()
        return True

    def write(self, words: str, size: float, *, x: float | None = None, bold: bool = False, after: float = 1.3) -> None:
        """Write words on as many lines as needed; `after` is the line height in type sizes."""
        start = self.left if x is None else x
        for line in self.ink.wrapped(words, self.right - start, size, bold=bold):
            self.need(size)
            self.y -= size
            self.ink.left(start, self.y, line, size, bold=bold)
            self.y -= size * (after - 1)

    def heading(self, words: str, size: float = 10.0) -> None:
        """Write a heading with a hairline below, never alone at the foot of a page."""
        self.need(52)
        self.y -= 14 if self.is_narrow else 20
        self.ink.left(self.left, self.y, *self.ink.squeezed(words, self.room, (size, 6.5), bold=True), bold=True)
        self.ink.rule(self.left, self.y - 4, self.right, 0.5)
        self.y -= 8


class SheetContent(Protocol):
    """The contents of a piece's pages."""

    @property
    def reference(self) -> str:
        """Return the piece's reference, which its pages are found by."""
        ...


Content = TypeVar("Content", bound=SheetContent)


def write_sheets(
    contents: Iterable[Content],
    out: BinaryIO,
    press: Press,
    head: Callable[[Content, SheetWriter], None],
    body: Callable[[Content, SheetWriter], None],
) -> tuple[PageRecord, ...]:
    """Write each content from a new page on, with its heading on every page. Return what is on the pages.

    Returns nothing when canceled.
    """
    document = start(out, press)
    for done, content in enumerate(contents, 1):
        if press.canceled():
            return ()
        sheet = SheetWriter(document, partial(head, content), content.reference)
        sheet.open()
        body(content, sheet)
        sheet.close()
        press.progress(done)
    return document.finish()
