"""Press: what every paper is made with, and the way from contents to a PDF with pages of one size.

Two runs over the same contents give the same bytes: no date and no random mark goes into the file.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from contextlib import contextmanager
from dataclasses import dataclass, field
from typing import Any, BinaryIO, Generic, TypeVar

from desk.paper.dots import Grid
from desk.paper.fonts import INK, Fonts
from desk.paper.ink import Ink, PageRecord, PartPlacement
from desk.paper.stock import STOCKS, Box, PageSize, Stock, StockKind, cells

Content = TypeVar("Content")
CUT_DASH = (3, 3)  # points
PRODUCER = "Tare & Tag"


def _nobody(_done: int) -> None: ...


def _never() -> bool:
    return False


@dataclass(frozen=True, slots=True)
class Calibration:
    """What a printer needs to hit the paper: moved right and up by points, everything but the codes scaled."""

    right: float = 0.0
    up: float = 0.0
    scale: float = 1.0


@dataclass(frozen=True, slots=True)
class Press:
    """Fonts, stock, the printer's dots and calibration, the file's title, and who watches a long run.

    `progress` hears the number of contents done; when `cancelled` says yes, nothing is written at all. `several` puts
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
    progress: Callable[[int], None] = _nobody
    cancelled: Callable[[], bool] = _never


@dataclass(frozen=True, slots=True)
class PageForm(Generic[Content]):
    """How one content is drawn: wanted size in points, how, lying on its side or not, alone on a label or not."""

    size: PageSize
    draw: Callable[[Ink, Content], None]
    turned: bool = False
    several: bool = False


@dataclass(slots=True)
class Document:
    """A PDF being written, page by page, all of one size. `pages` says what is on each."""

    press: Press
    canvas: Any
    pages: list[PageRecord] = field(default_factory=list)

    @property
    def page(self) -> Ink:
        """The open page as a whole, with the printer's calibration."""
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
        self.canvas.showPage()

    @contextmanager
    def cell(self, box: Box, *, turned: bool = False) -> Iterator[Ink]:
        """Write on a part of the open page that will be cut or peeled off."""
        self.pages[-1].cells.append(self._ink.place.box(box))
        with self._ink.within(box, turned=turned) as ink:
            yield ink

    def finish(self) -> tuple[PageRecord, ...]:
        """Write the file; what is on its pages. A paper with nothing on it has one page that says so."""
        if not self.pages:
            ink = self.open()
            room = ink.size[0] - 48
            for row, line in enumerate(ink.wrapped(self.press.empty, room, 12)):
                ink.left(24, ink.size[1] - 40 - 16 * row, line, 12)
            self.close()
        self.canvas.save()
        return tuple(self.pages)


def start(out: BinaryIO, press: Press) -> Document:
    """An open document with no page yet."""
    from reportlab import rl_config
    from reportlab.pdfgen.canvas import Canvas

    rl_config.useA85 = 0  # bytes as they are: a fifth smaller than written in letters
    press.fonts.covers(INK)
    canvas = Canvas(out, pagesize=press.stock.page, invariant=1, pageCompression=1, lang="en-US", initialFontName=INK)
    canvas.setTitle(press.title or PRODUCER)
    canvas.setAuthor(press.author)
    canvas.setCreator(PRODUCER)
    canvas.setProducer(PRODUCER)
    return Document(press, canvas)


def write_forms(
    contents: Iterable[Content], out: BinaryIO, press: Press, form_of: Callable[[Content], PageForm[Content]]
) -> tuple[PageRecord, ...]:
    """Draw every content on its part of a page, in order; what is on the pages, empty when cancelled.

    Another form than the one before begins a new page, so that the order of the pile holds. GlyphMissing when a
    character cannot be drawn: callers ask `missing_glyphs` before.
    """
    document = start(out, press)
    current: PageForm[Content] | None = None
    free: list[Box] = []
    for done, content in enumerate(contents, 1):
        if press.cancelled():
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
    """Draw where to cut, wherever a part does not end with its label or its page."""
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
