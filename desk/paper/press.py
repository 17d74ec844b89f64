"""Press: what every paper is made with, and how contents become a PDF with pages of one size.

Two runs over the same contents give the same bytes: the file contains no date and nothing random.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from contextlib import contextmanager
from dataclasses import dataclass, field
from typing import Any, BinaryIO, Generic, TypeVar  # reportlab has no types

from desk.paper.dots import Grid
from desk.paper.fonts import Fonts
from desk.paper.ink import Ink, PageRecord, PartPlacement
from desk.paper.stock import STOCKS, Box, PageSize, Stock, StockKind, cells

Content = TypeVar("Content")
CUT_DASH = (3, 3)  # points
PRODUCER = "Tare & Tag"


def _no_report(_done: int) -> None: ...


def _never() -> bool:
    return False


@dataclass(frozen=True, slots=True)
class Calibration:
    """A printer's correction: shift right and up in points, and scale for everything except codes."""

    right: float = 0.0
    up: float = 0.0
    scale: float = 1.0


@dataclass(frozen=True, slots=True)
class Press:
    """Fonts, stock, the printer's resolution and calibration, the file's title, and callbacks for a long run.

    `progress` receives the number of contents done; once `canceled` returns True, the file ends unfinished. `several` puts
    as many small papers on one label as fit.
    """

    fonts: Fonts
    stock: Stock = STOCKS[0]
    dpi: int = 203
    calibration: Calibration = Calibration()
    several: bool = False
    title: str = ""
    author: str = ""
    empty: str = "Nothing to print."
    progress: Callable[[int], None] = _no_report
    canceled: Callable[[], bool] = _never


@dataclass(frozen=True, slots=True)
class PageForm(Generic[Content]):
    """How one content is drawn: its size in points, its function, whether sideways, whether several share a label."""

    size: PageSize
    draw: Callable[[Ink, Content], None]
    turned: bool = False
    several: bool = False


@dataclass(slots=True)
class Document:
    """A PDF being written, page by page, all of one size. `pages` records what is on each."""

    press: Press
    canvas: Any
    pages: list[PageRecord] = field(default_factory=list)

    @property
    def page(self) -> Ink:
        """Return the open page, with the printer's calibration."""
        return self._ink

    _ink: Ink = field(init=False, repr=False)

    def open(self) -> Ink:
        """Begin a page."""
        size, by = self.press.stock.page, self.press.calibration
        record = PageRecord(size)
        self.pages.append(record)
        place = PartPlacement(by.right, by.up, 0, by.scale)
        if by != Calibration():
            self.canvas.transform(by.scale, 0, 0, by.scale, by.right, by.up)
        self._ink = Ink(self.canvas, self.press.fonts, Grid(self.press.dpi), size, place, record)
        return self._ink

    def close(self) -> None:
        """End the open page."""
        self.pages[-1].finish(self.canvas.getCurrentPageContent())
        self.canvas.showPage()

    @contextmanager
    def cell(self, box: Box, *, turned: bool = False) -> Iterator[Ink]:
        """Write on a part of the open page that will be cut or peeled off."""
        self.pages[-1].cells.append(self._ink.place.box(box))
        with self._ink.within(box, turned=turned) as ink:
            yield ink

    def finish(self) -> tuple[PageRecord, ...]:
        """Write the file. Return what is on its pages. An empty paper has one page with a note."""
        if not self.pages:
            ink = self.open()
            room = ink.size[0] - 48
            for row, line in enumerate(ink.wrapped(self.press.empty, room, 12)):
                ink.left(24, ink.size[1] - 40 - 16 * row, line, 12)
            self.close()
        self.canvas.save()
        return tuple(self.pages)


def start(out: BinaryIO, press: Press) -> Document:
    """Return a new document without pages."""
    from desk.paper.streamed import StreamedCanvas

    canvas = StreamedCanvas(out, press.stock.page)
    canvas.setTitle(press.title or PRODUCER)
    canvas.setAuthor(press.author)
    canvas.setCreator(PRODUCER)
    canvas.setProducer(PRODUCER)
    return Document(press, canvas)


def write_forms(
    contents: Iterable[Content], out: BinaryIO, press: Press, form_of: Callable[[Content], PageForm[Content]]
) -> tuple[PageRecord, ...]:
    """Draw every content on its part of a page, in order. Return what is on the pages; empty when canceled.

    A different form begins a new page, so that the batch's order is kept.

    Raises:
        GlyphMissing: a character cannot be drawn; callers check `missing_glyphs` first.
    """
    document = start(out, press)
    current: PageForm[Content] | None = None
    free: list[Box] = []
    for done, content in enumerate(contents, 1):
        if press.canceled():
            return ()
        form = form_of(content)
        if not free or form != current:
            _end(document, current)
            document.open()
            current, free = form, list(cells(press.stock, form.size, several=form.several))
        with document.cell(free.pop(0), turned=form.turned) as ink:
            form.draw(ink, content)
        document.pages[-1].references.append(getattr(content, "reference", ""))
        press.progress(done)
    _end(document, current)
    return document.finish()


def _end(document: Document, form: PageForm[Any] | None) -> None:
    if form is not None:
        _cut_lines(document.page, cells(document.press.stock, form.size, several=form.several), document.press.stock)
        document.close()


def _cut_lines(ink: Ink, boxes: tuple[Box, ...], stock: Stock) -> None:
    """Draw cut lines wherever a part does not end at the edge of its label or page."""
    width, height = ink.size
    if stock.kind is StockKind.LABEL_SHEET:
        return
    levels = {round(edge, 2) for box in boxes for edge in (box.bottom, box.top)}
    ups = {round(edge, 2) for box in boxes for edge in (box.left, box.right)}
    ink.canvas.setDash(*CUT_DASH)
    for y in sorted(levels):
        if 1 < y < height - 1:
            ink.line((0, y), (width, y), 0.4)
    for x in sorted(ups):
        if 1 < x < width - 1:
            ink.line((x, 0), (x, height), 0.4)
    ink.canvas.setDash()
