"""Sheet: a page of US letter size that is written from the top and goes on over the page when it is full."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, field

from desk.paper.ink import Ink
from desk.paper.press import LETTER, turn

EDGE = 45.0
RIGHT = LETTER[0] - EDGE
FLOOR = 54.0


@dataclass(slots=True)
class Sheet:
    """Writes downwards; `y` is the place of the next base line. `head` is drawn anew on top of each page."""

    ink: Ink
    head: Callable[[Sheet], None]
    y: float = 0.0
    page: int = field(default=0)

    def open(self) -> None:
        """Start the first page."""
        self.page += 1
        self.y = LETTER[1] - EDGE
        self.head(self)

    def need(self, height: float) -> bool:
        """Go to a new page when less than `height` points are left; True when it did."""
        if self.y - height >= FLOOR:
            return False
        turn(self.ink)
        self.ink.canvas.setPageSize(LETTER)
        self.open()
        return True

    def write(self, words: str, size: float, *, x: float = EDGE, bold: bool = False, after: float = 1.3) -> None:
        """Write words on as many lines as they need; `after` is the line height in sizes."""
        for line in self.ink.wrapped(words, RIGHT - x, size, bold=bold):
            self.need(size)
            self.y -= size
            self.ink.left(x, self.y, line, size, bold=bold)
            self.y -= size * (after - 1)

    def heading(self, words: str) -> None:
        """A heading with a hairline below; never alone at the foot of a page."""
        self.need(52)
        self.y -= 20
        self.ink.left(EDGE, self.y, words, 10, bold=True)
        self.ink.rule(EDGE, self.y - 4, RIGHT, 0.5)
        self.y -= 8
