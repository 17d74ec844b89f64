"""Fonts: the shipped typefaces, and which one draws which character.

A character missing from every font would print as a box or as nothing, with no error from the page library. So every
text is checked before drawing: `missing_glyphs` returns what cannot be printed, and drawing such a text raises.
"""

from __future__ import annotations

import io
import unicodedata
from collections.abc import Iterator
from dataclasses import dataclass, field
from importlib.resources.abc import Traversable
from itertools import groupby
from typing import Any  # reportlab has no types

from desk.paper.shaping import shape, turned, visual_runs

INK = "NotoSans-Regular.ttf"
BOLD = "NotoSans-Bold.ttf"
BOLD_CAPITALS = 0.714  # height of a capital in type sizes, from the OS/2 table of both fonts
# Tried in this order. The last two are large, and read on first use.
FALLBACKS = (
    "NotoSansHebrew-Regular.ttf",
    "NotoSansArabic-Regular.ttf",
    "NotoSansThai-Regular.ttf",
    "NotoSansDevanagari-Regular.ttf",
    "NotoSansBengali-Regular.ttf",
    "NotoSansTamil-Regular.ttf",
    "NotoSansArmenian-Regular.ttf",
    "NotoSansGeorgian-Regular.ttf",
    "NotoSansSC-Regular.ttf",
    "NotoSansKR-Regular.ttf",
)
SHAPED = frozenset(
    f"NotoSans{script}-Regular.ttf" for script in ("Hebrew", "Arabic", "Thai", "Devanagari", "Bengali", "Tamil")
)
JOINERS = "\u200c\u200d"


class GlyphMissing(ValueError):
    """A text with characters that no shipped font can draw; `characters` lists them."""

    def __init__(self, text: str, characters: str) -> None:
        super().__init__(f"no face has {characters!r} of {text!r}")
        self.characters = characters


@dataclass(frozen=True, slots=True)
class Run:
    """Adjacent characters drawn by one font, in reading order. `face` is the page library's name for it."""

    face: str
    text: str
    rtl: bool = False

    @property
    def is_shaped(self) -> bool:
        """Return True when the script needs its glyphs chosen and positioned."""
        return self.face in SHAPED

    def shaped(self, size: float) -> str:
        """Return the text as drawn."""
        return shape(self.face, self.text, size, rtl=self.rtl) if self.is_shaped else self.text

    def width(self, size: float) -> float:
        """Return the width in points."""
        if self.is_shaped:
            glyphs: Any = shape(self.face, self.text, size, rtl=self.rtl)
            return float(sum(glyph.x_advance for glyph in glyphs.__shapeData__)) * size / 1000
        from reportlab.pdfbase.pdfmetrics import stringWidth

        return float(stringWidth(self.text, self.face, size))


@dataclass(slots=True)
class Fonts:
    """The fonts found in a folder. A font that is not there is skipped, and its characters count as missing."""

    folder: Traversable
    _covers: dict[str, frozenset[str]] = field(default_factory=dict)
    _runs: dict[tuple[str, bool], tuple[Run, ...]] = field(default_factory=dict)
    _widths: dict[tuple[str, bool], float] = field(default_factory=dict)

    def runs(self, text: str, *, bold: bool = False) -> tuple[Run, ...]:
        """Return the text in visual order, split into runs of one font. Raises GlyphMissing for a missing character."""
        cached = self._runs.get((text, bold))
        if cached is None:
            if len(self._runs) > 5000:
                self._runs.clear()
            cached = self._runs[text, bold] = self._cut(text, bold=bold)
        return cached

    def width(self, text: str, *, bold: bool = False) -> float:
        """Return the text's width in type sizes, measured once. Raises GlyphMissing for a missing character."""
        cached = self._widths.get((text, bold))
        if cached is None:
            if len(self._widths) > 5000:
                self._widths.clear()
            cached = self._widths[text, bold] = sum(run.width(1000) for run in self.runs(text, bold=bold)) / 1000
        return cached

    def covers(self, face: str) -> frozenset[str]:
        """Return the characters a font has; reads and registers it on first use."""
        if face not in self._covers:
            self._covers[face] = _register(self.folder, face)
        return self._covers[face]

    def face_for(self, char: str, *, bold: bool = False) -> str | None:
        """Return the first font that has the character, or None."""
        faces = (BOLD if bold else INK, *FALLBACKS)
        return next((face for face in faces if char in self.covers(face)), None)

    def _cut(self, text: str, *, bold: bool) -> tuple[Run, ...]:
        first = BOLD if bold else INK
        tidy = clean(text)
        if self.covers(first).issuperset(tidy):
            return (Run(first, tidy),) if tidy else ()
        faces = {character: self.face_for(character, bold=bold) for character in tidy}
        lost = "".join(character for character, face in faces.items() if face is None)
        if lost:
            raise GlyphMissing(text, lost)
        return tuple(run for part, rtl in visual_runs(tidy) for run in _of_one_face(part, faces, rtl=rtl))


def _of_one_face(text: str, faces: dict[str, str | None], *, rtl: bool) -> list[Run]:
    """Return a run of one direction split where the font changes, from the left."""
    pairs = _with_their_base([(faces[character], character) for character in text])
    cut = [
        (face, "".join(character for _, character in group)) for face, group in groupby(pairs, key=lambda one: one[0])
    ]
    if not rtl:
        return [Run(face, part) for face, part in cut]
    return [Run(face, part if face in SHAPED else turned(part), rtl=True) for face, part in reversed(cut)]


def missing_glyphs(text: str, fonts: Fonts) -> str:
    """Return the characters of a text that cannot be printed, each once; empty when all can."""
    try:
        fonts.runs(text)
    except GlyphMissing as lost:
        return lost.characters
    return ""


def with_marks_for_missing(text: str, fonts: Fonts) -> str:
    """Return the text with a question mark for each unprintable character; for papers that stay on the bench.

    Slips and sheets must exist for every piece. A label is not printed this way: its address would be wrong.
    """
    if not missing_glyphs(text, fonts):
        return text
    return "".join(char if fonts.face_for(char) else "?" for char in clean(text))


def clean(text: str) -> str:
    """Return composed characters, plain single spaces, and no invisible characters except Indic joiners."""
    if text.isascii() and text.isprintable():
        return text
    spaced = "".join(" " if char.isspace() else char for char in unicodedata.normalize("NFC", text))
    return "".join(char for char in spaced if _is_ink(char) or (char in JOINERS and _is_indic(spaced)))


def _is_ink(char: str) -> bool:
    return unicodedata.category(char) not in {"Cf", "Cc"} and not "\ufe00" <= char <= "\ufe0f"


def _is_indic(text: str) -> bool:
    return any("\u0900" <= char <= "\u0dff" for char in text)


def _with_their_base(faces: list[tuple[str | None, str]]) -> Iterator[tuple[str, str]]:
    """Yield characters with their font; marks and joiners stay with the preceding character where they are shaped
    together.
    """
    before = ""
    for face, char in faces:
        mark = unicodedata.category(char) in {"Mn", "Mc"} or char in JOINERS
        before = before if mark and before in SHAPED else str(face)
        yield before, char


def _register(folder: Traversable, face: str) -> frozenset[str]:
    from reportlab.pdfbase import pdfmetrics
    from reportlab.pdfbase.ttfonts import TTFont

    file = folder.joinpath(face)
    if not file.is_file():
        return frozenset()
    if face not in pdfmetrics.getRegisteredFontNames():
        font = TTFont(face, io.BytesIO(file.read_bytes()))
        pdfmetrics.registerFont(font)
        if face in SHAPED:
            _number_glyphs(font)
    chars = map(chr, pdfmetrics.getFont(face).face.charToGlyph)
    return frozenset(char for char in chars if unicodedata.category(char) != "Co")


def _number_glyphs(font: Any) -> None:
    """Give each glyph without a character its private one now, in font order.

    The page library would do this when a glyph first appears, so a paper's bytes would depend on earlier papers.
    """
    shaper = font.hbFont()
    for glyph in range(shaper.face.glyph_count):
        if glyph not in font.face.glyphToChar:
            font.hbAddPrivate(shaper.glyph_to_string(glyph), glyph, shaper.get_glyph_h_advance(glyph))
