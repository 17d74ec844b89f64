"""Ink: writing, measuring and ruling on a page or a part of one; sizes and positions in points from the lower left."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass, field, replace
from typing import Any

from desk.paper.dots import INSET, Grid, code_width, in_dots
from desk.paper.fonts import Fonts
from desk.paper.stock import Box, PageSize

STEP = 0.5  # points between tried sizes
LEADING = 1.25
_COS = (1, 0, -1, 0)
_SIN = (0, 1, 0, -1)


@dataclass(frozen=True, slots=True)
class PartPlacement:
    """Where a part of a page lies: turned left by quarter turns, then scaled, then moved."""

    x: float = 0.0
    y: float = 0.0
    turns: int = 0
    scale: float = 1.0

    def at(self, x: float, y: float) -> tuple[float, float]:
        """The point of the page for a point of the part."""
        cos, sin = _COS[self.turns], _SIN[self.turns]
        return self.x + self.scale * (cos * x - sin * y), self.y + self.scale * (sin * x + cos * y)

    def inside(self, x: float, y: float, turns: int) -> PartPlacement:
        """The place of a part of this part."""
        return PartPlacement(*self.at(x, y), (self.turns + turns) % 4, self.scale)

    def box(self, box: Box) -> Box:
        """The rectangle of the page for a rectangle of the part."""
        ends = (self.at(box.left, box.bottom), self.at(box.right, box.top))
        (left, right), (bottom, top) = (sorted(side) for side in zip(*ends, strict=True))
        return Box(left, bottom, right - left, top - bottom)

    def back(self) -> tuple[float, ...]:
        """The matrix that leads from the part back to the page."""
        cos, sin, by = _COS[self.turns], _SIN[self.turns], 1 / self.scale
        return (
            cos * by, -sin * by, sin * by, cos * by,
            -(cos * self.x + sin * self.y) * by, (sin * self.x - cos * self.y) * by,
        )  # fmt: skip


@dataclass(slots=True)
class PageRecord:
    """What was put on one page, for the proof: the parts to cut or peel apart, and each code with its place."""

    size: PageSize
    cells: list[Box] = field(default_factory=list)
    codes: list[tuple[str, Box]] = field(default_factory=list)
    references: list[str] = field(default_factory=list)


@dataclass(frozen=True, slots=True)
class Ink:
    """A page, or a part of one, to write on. `canvas` is the page library's; black is the only ink."""

    canvas: Any
    fonts: Fonts
    grid: Grid
    size: PageSize = (288.0, 432.0)
    place: PartPlacement = PartPlacement()
    record: PageRecord | None = None

    @contextmanager
    def within(self, box: Box, *, turned: bool = False) -> Iterator[Ink]:
        """Write on a part of the page; `turned` lets the writing run up, its foot at the right edge of the part."""
        x = box.right if turned else box.left
        self.canvas.saveState()
        self.canvas.translate(x, box.bottom)
        if turned:
            self.canvas.rotate(90)
        size = (box.height, box.width) if turned else (box.width, box.height)
        yield replace(self, size=size, place=self.place.inside(x, box.bottom, int(turned)))
        self.canvas.restoreState()

    def width(self, words: str, size: float, *, bold: bool = False) -> float:
        """Width of the words in points; GlyphMissing when a character cannot be drawn."""
        return sum(run.width(size) for run in self.fonts.runs(words, bold=bold))

    def left(self, x: float, y: float, words: str, size: float, *, bold: bool = False) -> None:
        """Write from x to the right, on the base line y."""
        line = self.canvas.beginText(x, y)
        for run in self.fonts.runs(words, bold=bold):
            line.setFont(run.face, size)
            line.textOut(run.shaped(size))
        self.canvas.drawText(line)

    def right(self, x: float, y: float, words: str, size: float, *, bold: bool = False) -> None:
        """Write so that the words end at x."""
        self.left(x - self.width(words, size, bold=bold), y, words, size, bold=bold)

    def middle(self, x: float, y: float, words: str, size: float, *, bold: bool = False) -> None:
        """Write with x in the middle of the words."""
        self.left(x - self.width(words, size, bold=bold) / 2, y, words, size, bold=bold)

    def code_width(self, text: str, room: float) -> float:
        """Width that a code of the text takes in `room`, quiet zones included; 0 when `code` would draw none."""
        wide = code_width(text, room * self.place.scale, self.grid)
        return 0.0 if wide is None else wide / self.place.scale

    def code(self, text: str, box: Box, module: int | None = None) -> bool:
        """Draw the barcode of a text from the left edge of a box, on whole dots of the printer, never scaled.

        False, and nothing drawn, when the text cannot be coded or does not fit: its number stands there in figures.
        """
        found = in_dots(text, box.width * self.place.scale, self.grid, module)
        if found is None:
            return False
        drawn, wide = found
        grid, here = self.grid, self.place
        x, y = here.at(box.left, box.bottom)
        start = PartPlacement(grid.whole(x), grid.whole(y), here.turns)
        high = grid.whole(box.height * here.scale)
        path = self.canvas.beginPath()
        for left, width in drawn:
            bar = start.box(Box(left, INSET, width, high - 2 * INSET))
            path.rect(*(side * grid.dot for side in (bar.left, bar.bottom, bar.width, bar.height)))
        self.canvas.saveState()
        self.canvas.transform(*here.back())
        self.canvas.drawPath(path, stroke=0, fill=1)
        self.canvas.restoreState()
        if self.record is not None:
            area = start.box(Box(0, 0, wide, high))
            sides = (side * grid.dot for side in (area.left, area.bottom, area.width, area.height))
            self.record.codes.append((text, Box(*sides)))
        return True

    def rule(self, x: float, y: float, to: float, width: float = 1.5) -> None:
        """Draw a level line."""
        self.line((x, y), (to, y), width)

    def line(self, start: tuple[float, float], end: tuple[float, float], width: float = 1.0) -> None:
        """Draw a line."""
        self.canvas.setLineWidth(width)
        self.canvas.line(*start, *end)

    def box(self, box: Box, width: float = 1.0) -> None:
        """Draw an empty frame."""
        self.canvas.setLineWidth(width)
        self.canvas.rect(box.left, box.bottom, box.width, box.height)

    def size_for(self, words: str, room: float, sizes: tuple[float, float], *, bold: bool = False) -> float:
        """The largest size between (most, least) at which the words fit the room; the least when none does."""
        most, least = sizes
        wide = self.width(words, most, bold=bold)
        if wide <= room:
            return most
        return max(least, int(most * room / wide / STEP) * STEP)

    def squeezed(self, words: str, room: float, sizes: tuple[float, float], *, bold: bool = False) -> tuple[str, float]:
        """Words and size for one line: smaller where they are too wide, cut with dots where the least is too wide."""
        size = self.size_for(words, room, sizes, bold=bold)
        if self.width(words, size, bold=bold) <= room:
            return words, size
        low, high = 0, len(words)  # the most characters that fit with the dots
        while low < high:
            middle = (low + high + 1) // 2
            if self.width(words[:middle] + "…", size, bold=bold) <= room:
                low = middle
            else:
                high = middle - 1
        return words[:low].rstrip() + "…", size

    def wrapped(self, words: str, room: float, size: float, *, bold: bool = False) -> list[str]:
        """The words on as many lines as they need; a word longer than a line is cut."""
        if self.width(words, size, bold=bold) <= room:
            return [words]
        lines, line = [], ""
        for word in words.split():
            longer = f"{line} {word}" if line else word
            if self.width(longer, size, bold=bold) <= room:
                line = longer
                continue
            lines += [line] if line else []
            *whole, line = self._cut(word, room, size, bold=bold)
            lines += whole
        return [*lines, line] if line else lines

    def _cut(self, word: str, room: float, size: float, *, bold: bool) -> list[str]:
        parts, part = [], ""
        for character in word:
            if part and self.width(part + character, size, bold=bold) > room:
                parts.append(part)
                part = ""
            part += character
        return [*parts, part]
