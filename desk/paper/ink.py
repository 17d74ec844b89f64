"""Ink: write, measure and rule on a page or a part of one; sizes and positions in points from the lower left."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from dataclasses import dataclass, field
from hashlib import blake2b
from typing import Any  # reportlab has no types

from desk.paper.dots import INSET, Grid, code_width, in_dots
from desk.paper.fonts import Fonts
from desk.paper.stock import Box, PageSize

STEP = 0.5  # points between attempted sizes
LEADING = 1.25
_COS = (1, 0, -1, 0)
_SIN = (0, 1, 0, -1)


@dataclass(frozen=True, slots=True)
class PartPlacement:
    """The position of a part of a page: turned left by quarter turns, then scaled, then moved."""

    x: float = 0.0
    y: float = 0.0
    turns: int = 0
    scale: float = 1.0

    def at(self, x: float, y: float) -> tuple[float, float]:
        """Return the page's point for a point of the part."""
        cos, sin = _COS[self.turns], _SIN[self.turns]
        return self.x + self.scale * (cos * x - sin * y), self.y + self.scale * (sin * x + cos * y)

    def inside(self, x: float, y: float, turns: int) -> PartPlacement:
        """Return the position of a part within this part."""
        return PartPlacement(*self.at(x, y), (self.turns + turns) % 4, self.scale)

    def box(self, box: Box) -> Box:
        """Return the page's rectangle for a rectangle of the part."""
        ends = (self.at(box.left, box.bottom), self.at(box.right, box.top))
        (left, right), (bottom, top) = (sorted(side) for side in zip(*ends, strict=True))
        return Box(left, bottom, right - left, top - bottom)

    def in_dots(self, dot: float) -> tuple[float, ...]:
        """Return the matrix from a part placed in dots to the page; `dot` in points."""
        cos, sin = _COS[self.turns] * dot, _SIN[self.turns] * dot
        return cos, sin, -sin, cos, self.x * dot, self.y * dot

    def back(self) -> tuple[float, ...]:
        """Return the matrix from the part back to the page."""
        cos, sin, by = _COS[self.turns], _SIN[self.turns], 1 / self.scale
        return (
            cos * by, -sin * by, sin * by, cos * by,
            -(cos * self.x + sin * self.y) * by, (sin * self.x - cos * self.y) * by,
        )  # fmt: skip


@dataclass(slots=True)
class PageRecord:
    """What was put on one page, for the proof: the parts to cut or peel apart, and each code with its area.

    `words` are its texts as drawn. `seal` stands for everything drawn on it, once the page is finished: equal seals,
    equal pages. Until then it is empty.
    """

    size: PageSize
    cells: list[Box] = field(default_factory=list)
    codes: list[tuple[str, Box]] = field(default_factory=list)
    references: list[str] = field(default_factory=list)
    words: list[str] = field(default_factory=list)
    seal: bytes = b""

    def finish(self, drawing: str) -> None:
        """Seal the page. `drawing` are its operators; the words say which character each glyph number stands for."""
        whole = (repr((self.size, self.cells, self.codes)), drawing, *self.words)
        self.seal = blake2b("\0".join(whole).encode(), digest_size=16).digest()
        self.words.clear()


@dataclass(frozen=True, slots=True)
class Ink:
    """A page, or a part of one, to write on. `canvas` is a StreamedCanvas; black is the only ink."""

    canvas: Any
    fonts: Fonts
    grid: Grid
    size: PageSize = (288.0, 432.0)
    place: PartPlacement = PartPlacement()
    record: PageRecord | None = None

    @contextmanager
    def within(self, box: Box, *, turned: bool = False) -> Iterator[Ink]:
        """Write on a part of the page; `turned` makes the text run upwards, its foot at the part's right edge."""
        x = box.right if turned else box.left
        self.canvas.saveState()
        self.canvas.translate(x, box.bottom)
        if turned:
            self.canvas.rotate(90)
        size = (box.height, box.width) if turned else (box.width, box.height)
        place = self.place.inside(x, box.bottom, int(turned))
        yield Ink(self.canvas, self.fonts, self.grid, size, place, self.record)  # a fifth of the time of `replace`
        self.canvas.restoreState()

    def width(self, words: str, size: float, *, bold: bool = False) -> float:
        """Return the text's width in points. Raises GlyphMissing when a character cannot be drawn."""
        return self.fonts.width(words, bold=bold) * size

    def left(self, x: float, y: float, words: str, size: float, *, bold: bool = False) -> None:
        """Write to the right from x, on the base line y."""
        if self.record is not None:
            self.record.words.append(words)
        runs = self.fonts.runs(words, bold=bold)
        if len(runs) == 1 and not runs[0].is_shaped:
            self.canvas.write(x, y, runs[0].text, runs[0].face, size)
        elif runs:
            line = self.canvas.beginText(x, y)
            for run in runs:
                line.setFont(run.face, size)
                line.textOut(run.shaped(size))
            self.canvas.drawText(line)

    def right(self, x: float, y: float, words: str, size: float, *, bold: bool = False) -> None:
        """Write so that the text ends at x."""
        self.left(x - self.width(words, size, bold=bold), y, words, size, bold=bold)

    def middle(self, x: float, y: float, words: str, size: float, *, bold: bool = False) -> None:
        """Write centered on x."""
        self.left(x - self.width(words, size, bold=bold) / 2, y, words, size, bold=bold)

    def code_width(self, text: str, room: float) -> float:
        """Return the width of a text's code in `room`, quiet zones included; 0 when `code` would draw none."""
        wide = code_width(text, room * self.place.scale, self.grid)
        return 0.0 if wide is None else wide / self.place.scale

    def code(self, text: str, box: Box, module: int | None = None) -> bool:
        """Draw a text's barcode from the left edge of a box, on whole printer dots, never scaled.

        Return False, and draw nothing, when the text cannot be encoded or does not fit; its digits are printed anyway.
        """
        grid, here = self.grid, self.place
        path = in_dots(text, box.width * here.scale, grid.whole(box.height * here.scale), grid, module)
        if path is None:
            return False
        x, y = here.at(box.left, box.bottom)
        start = PartPlacement(grid.whole(x), grid.whole(y), here.turns)
        self.canvas.saveState()
        self.canvas.transform(*here.back())
        self.canvas.transform(*start.inside(INSET, INSET, 0).in_dots(grid.dot))
        self.canvas.drawPath(path, stroke=0, fill=1)
        self.canvas.restoreState()
        if self.record is not None:
            area = start.box(Box(0, 0, path.wide, path.high))
            sides = (side * grid.dot for side in (area.left, area.bottom, area.width, area.height))
            self.record.codes.append((text, Box(*sides)))
        return True

    def rule(self, x: float, y: float, to: float, width: float = 1.5) -> None:
        """Draw a horizontal line."""
        self.line((x, y), (to, y), width)

    def line(self, start: tuple[float, float], end: tuple[float, float], width: float = 1.0) -> None:
        """Draw a line."""
        self.lines([(*start, *end)], width)

    def lines(self, lines: Sequence[tuple[float, float, float, float]], width: float = 1.0) -> None:
        """Draw lines (from x, y, to x, y)."""
        self.canvas.setLineWidth(width)
        self.canvas.lines(lines)

    def box(self, box: Box, width: float = 1.0) -> None:
        """Draw an empty frame."""
        self.canvas.setLineWidth(width)
        self.canvas.rect(box.left, box.bottom, box.width, box.height)

    def size_for(self, words: str, room: float, sizes: tuple[float, float], *, bold: bool = False) -> float:
        """Return the largest size between (most, least) at which the text fits; the least when none does."""
        most, least = sizes
        wide = self.width(words, most, bold=bold)
        if wide <= room:
            return most
        return max(least, int(most * room / wide / STEP) * STEP)

    def squeezed(self, words: str, room: float, sizes: tuple[float, float], *, bold: bool = False) -> tuple[str, float]:
        """Return text and size for one line: smaller if too wide, ended with an ellipsis if still too wide."""
        size = self.size_for(words, room, sizes, bold=bold)
        if self.width(words, size, bold=bold) <= room:
            return words, size
        low, high = 0, len(words)  # the most characters that fit with the ellipsis
        while low < high:
            middle = (low + high + 1) // 2
            if self.width(words[:middle] + "…", size, bold=bold) <= room:
                low = middle
            else:
                high = middle - 1
        return words[:low].rstrip() + "…", size

    def wrapped(self, words: str, room: float, size: float, *, bold: bool = False) -> list[str]:
        """Return the text on as many lines as needed; a word longer than a line is split, if possible after a mark."""
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
        """Return the parts of a word longer than a line: split after a mark such as @ or . where a line has one."""
        parts, part = [], ""
        for character in word:
            while part and self.width(part + character, size, bold=bold) > room:
                whole = _up_to_last_mark(part)
                parts.append(whole)
                part = part[len(whole) :]
            part += character
        return [*parts, part]


def _up_to_last_mark(text: str) -> str:
    """Return the text up to its last mark (`@`, `.`, `-`, `_`, `/`), or all of it when its last half has none."""
    last = max(map(text.rfind, "@.-_/"))
    return text[: last + 1] if 2 * (last + 1) >= len(text) else text
