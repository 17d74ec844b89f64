"""Lay out bought labels again: one on a page, cropped and rotated but never scaled, with our number in a free margin.

Runs only in the second process. A margin is free when everything within a quiet zone around the text is white at the
printer's resolution; without one, the number goes on a slip page after the label.
"""

from __future__ import annotations

from io import BytesIO
from pathlib import Path
from typing import Any  # pypdfium2 and reportlab have no types; plain records for json

from desk.domain.whole_file import write_whole
from desk.paper.bought.pages import DARK, DPI, Gray, opened, user_space
from desk.paper.bought.reading import NumberOn

SIZE = 9.0  # points of our number
CLEAR = 0.125 * 72  # points kept clear around our text, more than ten modules of any printable barcode
SLACK = 1.0  # points by which a label may exceed the page
STEP = 6  # dots between attempted positions


def lay_out(labels: list[dict[str, Any]], out: str, size: tuple[float, float], fonts: str) -> list[dict[str, Any]]:
    """Write the PDF and return the result for each label."""
    import pypdfium2

    sources: dict[str, Any] = {}
    made = pypdfium2.PdfDocument.new()
    placed: list[dict[str, Any]] = []
    for label in labels:
        source = sources.setdefault(label["file"], opened(label["file"]))
        page = _placed(made, source, label, size)
        if page is None:
            placed.append({"number_on": NumberOn.NOTHING, "pages": []})
            continue
        first = len(made) - 1
        position = _free(Gray.of(page), _width(label["words"], fonts), size)
        if position is not None:
            _stamp(made, page, _words_page(label["words"], size, fonts, position))
            placed.append({"number_on": NumberOn.MARGIN, "pages": [first]})
        else:
            slip = made.new_page(*size)
            _stamp(made, slip, _words_page(label["words"], size, fonts, None))
            placed.append({"number_on": NumberOn.SLIP, "pages": [first, first + 1]})
    whole = BytesIO()
    made.save(whole)
    write_whole(Path(out), whole.getvalue())
    return placed


def _placed(made: Any, source: Any, label: dict[str, Any], size: tuple[float, float]) -> Any | None:
    """Put a label on a new page, upright or rotated. Return the page, or None when the label is too large."""
    import pypdfium2

    left, bottom, right, top = label["region"]
    wide, high = right - left, top - bottom
    upright = wide <= size[0] + SLACK and high <= size[1] + SLACK
    if not upright and not (high <= size[0] + SLACK and wide <= size[1] + SLACK):
        return None
    old = source[label["page"]]
    box, rotation = user_space(old, (left, bottom, right, top)), old.get_rotation() % 360
    content = _cropped(made, source, label["page"], box)
    matrix = pypdfium2.PdfMatrix()  # the library has already moved the crop's corner to the origin
    turns = (rotation // 90 + (0 if upright else 3)) % 4  # clockwise
    content_size = (box[2] - box[0], box[3] - box[1])
    for _ in range(turns):
        matrix = matrix.rotate(90).translate(0, content_size[0])
        content_size = content_size[::-1]
    x, y = ((side - own) / 2 for side, own in zip(size, content_size, strict=True))
    if not turns:  # keep the bars aligned with the printer's dots
        x, y = (round((at - was) * DPI / 72) * 72 / DPI + was for at, was in ((x, box[0]), (y, box[1])))
    matrix = matrix.translate(x, y)
    content.transform(matrix)
    page = made.new_page(*size)
    page.insert_obj(content)
    page.gen_content()
    return page


def _cropped(made: Any, source: Any, number: int, box: tuple[float, float, float, float]) -> Any:
    """Return a part of a page as an object of the new document; the page itself is unchanged."""
    page = source[number]
    before = page.get_mediabox(), page.get_cropbox(), page.get_rotation()
    page.set_mediabox(*box)
    page.set_cropbox(*box)
    page.set_rotation(0)
    content = source.page_as_xobject(number, made).as_pageobject()
    page.set_mediabox(*before[0])
    page.set_cropbox(*before[1])
    page.set_rotation(before[2])
    page.close()
    return content


def _free(gray: Gray, width: float, size: tuple[float, float]) -> tuple[float, float, bool] | None:
    """Return a free position for the text (x and y in points, vertical or not); None when no margin is free."""
    by = DPI / 72
    long, high = round((width + 2 * CLEAR) * by), round((SIZE + 2 * CLEAR) * by)
    for wide, tall, up in ((long, high, False), (high, long, True)):
        spot = _white(gray, wide, tall)
        if spot is not None:
            x, y = spot[0] / by + CLEAR, size[1] - (spot[1] + tall) / by + CLEAR
            return (x + SIZE if up else x), y, up
    return None


def _white(gray: Gray, wide: int, tall: int) -> tuple[int, int] | None:
    """Return the first all-white position (left, top), searching inwards from the edges."""
    if wide > gray.width or tall > gray.height:
        return None
    dark = [gray.row(y).translate(DARK) for y in range(gray.height)]
    tops = sorted(range(0, gray.height - tall + 1, STEP), key=lambda top: min(top, gray.height - tall - top))
    for top in tops:
        rows = dark[top : top + tall]
        lefts = sorted(range(0, gray.width - wide + 1, STEP), key=lambda left: min(left, gray.width - wide - left))
        for left in lefts:
            if not any(1 in row[left : left + wide] for row in rows):
                return left, top
    return None


def _ink(canvas: Any, fonts: str, size: tuple[float, float]) -> Any:
    from desk.paper.dots import Grid
    from desk.paper.fonts import Fonts
    from desk.paper.ink import Ink

    return Ink(canvas, Fonts(Path(fonts)), Grid(), size)


def _width(words: str, fonts: str) -> float:
    return float(_ink(None, fonts, (0, 0)).width(words, SIZE, bold=True))


def _words_page(words: str, size: tuple[float, float], fonts: str, position: tuple[float, float, bool] | None) -> bytes:
    """Return a page with only our text, in its position or large on a slip."""
    from desk.paper.streamed import StreamedCanvas

    out = BytesIO()
    canvas = StreamedCanvas(out, size)
    ink = _ink(canvas, fonts, size)
    if position is None:
        ink.left(24, size[1] - 60, *ink.squeezed(words, size[0] - 48, (40, 10), bold=True), bold=True)
        ink.left(24, size[1] - 84, "for the label before this page", 10)
    else:
        x, y, up = position
        canvas.translate(x, y)
        if up:
            canvas.rotate(90)
        ink.left(0, SIZE * 0.22, words, SIZE, bold=True)
    canvas.showPage()
    canvas.save()
    return out.getvalue()


def _stamp(made: Any, page: Any, overlay: bytes) -> None:
    import pypdfium2

    words = pypdfium2.PdfDocument(overlay)
    page.insert_obj(words.page_as_xobject(0, made).as_pageobject())
    page.gen_content()
