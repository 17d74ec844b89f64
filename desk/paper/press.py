"""Press: what every paper is made with, and the way from contents to a PDF of one page or more.

Two runs over the same contents give the same bytes: no date and no random mark goes into the file.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass
from typing import BinaryIO, TypeVar

from desk.paper.dots import Grid
from desk.paper.fonts import Fonts
from desk.paper.ink import Ink

INCH = 72.0
LABEL = (4 * INCH, 6 * INCH)
SMALL = (4 * INCH, 2 * INCH)
LETTER = (8.5 * INCH, 11 * INCH)

PageSize = tuple[float, float]
Content = TypeVar("Content")


def _nobody(_done: int) -> None: ...


def _never() -> bool:
    return False


@dataclass(frozen=True, slots=True)
class Press:
    """Fonts, the printer's dots, the sentence of an empty paper, and who watches a long run.

    `progress` hears the number of contents done; when `cancelled` says yes, nothing is written at all.
    """

    fonts: Fonts
    dpi: int = 203
    empty: str = "Nothing to print."
    progress: Callable[[int], None] = _nobody
    cancelled: Callable[[], bool] = _never


Draw = Callable[[Ink, Content], None]
"""Draws one content. The page is open at its size; a paper that goes on begins the next page itself."""


def write_pages(contents: Iterable[Content], out: BinaryIO, press: Press, size: PageSize, draw: Draw[Content]) -> int:
    """Draw every content on pages of its own; how many pages were written, 0 when cancelled.

    `draw` may call `turn` of this module for a further page, or `resize` before it draws. GlyphMissing when a
    character cannot be drawn: callers ask `missing_glyphs` before.
    """
    ink = start(out, press, size)
    done = 0
    for done, content in enumerate(contents, 1):
        if press.cancelled():
            return 0
        ink.canvas.setPageSize(size)
        draw(ink, content)
        turn(ink)
        press.progress(done)
    if not done:
        say_empty(ink, press, size)
    return finish(ink)


def start(out: BinaryIO, press: Press, size: PageSize) -> Ink:
    """An open document on its first page."""
    from reportlab import rl_config
    from reportlab.pdfgen.canvas import Canvas

    rl_config.useA85 = 0  # bytes as they are: a fifth smaller than written in letters
    canvas = Canvas(out, pagesize=size, invariant=1, pageCompression=1)
    return Ink(canvas, press.fonts, Grid(press.dpi))


def say_empty(ink: Ink, press: Press, size: PageSize) -> None:
    """The one page of a paper with nothing on it."""
    for place, line in enumerate(ink.wrapped(press.empty, size[0] - 48, 12)):
        ink.left(24, size[1] - 40 - 16 * place, line, 12)
    turn(ink)


def turn(ink: Ink) -> None:
    """End this page."""
    ink.canvas.showPage()


def finish(ink: Ink) -> int:
    """Write the file; the number of its pages."""
    pages = int(ink.canvas.getPageNumber()) - 1
    ink.canvas.save()
    return pages
