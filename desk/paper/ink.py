"""Ink: writing, measuring and ruling on one page; sizes and places in points from the lower left corner."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

from desk.paper.dots import Grid
from desk.paper.fonts import Fonts

STEP = 0.5  # points between tried sizes


@dataclass(frozen=True, slots=True)
class Ink:
    """A page to write on. `canvas` is the page library's; black is the only ink."""

    canvas: Any
    fonts: Fonts
    grid: Grid

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

    def rule(self, x: float, y: float, to: float, width: float = 1.5) -> None:
        """A level line."""
        self.canvas.setLineWidth(width)
        self.canvas.line(x, y, to, y)

    def box(self, x: float, y: float, width: float, height: float, *, dash: tuple[float, float] | None = None) -> None:
        """An empty frame, dashed where something is still to be put."""
        self.canvas.setLineWidth(1 if dash else 2)
        self.canvas.setDash(*(dash or ()))
        self.canvas.rect(x, y, width, height)
        self.canvas.setDash()

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
        while words and self.width(words + "…", size, bold=bold) > room:
            words = words[:-1]
        return words + "…", size

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

    def fitted(
        self, lines: Sequence[str], room: tuple[float, float], sizes: tuple[float, float], *, bold: bool = False
    ) -> tuple[float, list[str]]:
        """Size and lines for a block in `room` (width, height); below the least size lines are wrapped instead."""
        width, height = room
        size, least = sizes
        widest = max((self.width(line, size, bold=bold) for line in lines), default=0)
        size = min(size, size * width / max(widest, 1), height / max(len(lines), 1) / LEADING)
        size = max(least, int(size / STEP) * STEP)
        return size, [part for line in lines for part in self.wrapped(line, width, size, bold=bold)]

    def _cut(self, word: str, room: float, size: float, *, bold: bool) -> list[str]:
        parts, part = [], ""
        for sign in word:
            if part and self.width(part + sign, size, bold=bold) > room:
                parts.append(part)
                part = ""
            part += sign
        return [*parts, part]


LEADING = 1.25
