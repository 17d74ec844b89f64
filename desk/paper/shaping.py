"""Shape text of right-to-left and complex scripts into visual order, with the glyphs HarfBuzz chooses.

Visual order follows the Unicode Bidirectional Algorithm (UAX #9, by python-bidi); HarfBuzz joins letters, places marks
and mirrors brackets within a right-to-left run. Optional ligatures are off.
"""

from __future__ import annotations

import unicodedata
from functools import lru_cache
from itertools import groupby
from typing import Any  # python-bidi has no types

FEATURES = {"kern": True, "liga": False, "dlig": False}


def is_right_to_left(text: str) -> bool:
    """Return True when the text has a right-to-left character."""
    return any(unicodedata.bidirectional(character) in {"R", "AL"} for character in text)


def visual_runs(text: str) -> list[tuple[str, bool]]:
    """Return the line split into runs of one direction, in visual order from the left.

    Each run is (characters in reading order, is right-to-left).
    """
    if not is_right_to_left(text):
        return [(text, False)] if text else []
    leveled = [(level, "".join(character for _, character in group)) for level, group in _by_level(text)]
    highest = max(level for level, _ in leveled)
    for level in range(highest, 0, -1):  # UAX #9, rule L2, on runs
        at = 0
        while at < len(leveled):
            end = at
            while end < len(leveled) and leveled[end][0] >= level:
                end += 1
            leveled[at:end] = leveled[at:end][::-1]
            at = max(end, at + 1)
    return [(characters, bool(level % 2)) for level, characters in leveled]


def _by_level(text: str) -> list[tuple[int, list[tuple[int, str]]]]:
    from bidi import algorithm

    storage: Any = algorithm.get_empty_storage()
    base = algorithm.get_base_level(text)
    storage["base_level"], storage["base_dir"] = base, "LR"[base]
    algorithm.get_embedding_levels(text, storage)
    algorithm.explicit_embed_and_overrides(storage)
    algorithm.resolve_weak_types(storage)
    algorithm.resolve_neutral_types(storage, debug=False)
    algorithm.resolve_implicit_levels(storage, debug=False)
    pairs = [(int(one["level"]), str(one["ch"])) for one in storage["chars"]]
    return [(level, list(group)) for level, group in groupby(pairs, key=lambda pair: pair[0])]


def turned(text: str) -> str:
    """Return a right-to-left run's characters in visual order from the left, brackets mirrored, letters unjoined."""
    from bidi.mirror import MIRRORED

    return "".join(MIRRORED.get(character, character) for character in reversed(text))


@lru_cache(maxsize=2000)  # 25 microseconds a call, several for each word
def shape(face: str, text: str, size: float, *, rtl: bool = False) -> str:
    """Return the text as the page library draws it: the font's glyphs chosen and placed, from the left."""
    import uharfbuzz
    from reportlab.pdfbase import pdfmetrics
    from reportlab.pdfbase.ttfonts import ShapeData, ShapedStr

    font = pdfmetrics.getFont(face)
    shaper = font.hbFont(size)
    buffer = uharfbuzz.Buffer()
    buffer.add_str(text)
    buffer.guess_segment_properties()
    buffer.direction = "rtl" if rtl else "ltr"
    uharfbuzz.shape(shaper, buffer, FEATURES)
    characters, places = [], []
    for info, position in zip(buffer.glyph_infos, buffer.glyph_positions, strict=True):
        known = font.face.glyphToChar.get(info.codepoint)
        code = known[0] if known else font.hbAddPrivate(
            shaper.glyph_to_string(info.codepoint), info.codepoint, position.x_advance
        )  # fmt: skip
        moved = (position.x_advance, position.y_advance, position.x_offset, position.y_offset)
        places.append(ShapeData(info.cluster, *map(font.pdfScale, moved), font.face.charWidths[code]))
        characters.append(chr(code))
    return ShapedStr("".join(characters), shapeData=places)  # type: ignore[no-any-return]
