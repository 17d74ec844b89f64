"""Find the labels on the pages of a PDF: their areas, text and barcodes. Runs only in the second process."""

from __future__ import annotations

import base64
from collections.abc import Iterator
from itertools import pairwise
from typing import Any  # pypdfium2 has no types; plain records for json

DPI = 203
WHITE = 250  # gray levels from here up are paper
LABEL_SIDE = 7.5 * 72  # points: a longer page may have several labels
GUTTER = 5.0  # points of white space between two labels
MIDDLE = (0.4, 0.6)  # where to look for a gutter, as fractions of the page
LEAST_INK = 0.0005  # dark fraction; less means an empty part
LARGEST_PAGE = 40 * 72.0

DARK = bytes(1 if level < WHITE else 0 for level in range(256))  # a table for bytes.translate

Region = tuple[float, float, float, float]


class UnreadablePdf(ValueError):
    """A PDF that cannot be read; the message continues after the file's name."""


def labels_of(file: str, most_pages: int) -> list[dict[str, Any]]:
    """Return the labels of a file as plain records. Raise UnreadablePdf when there are none."""
    document = opened(file)
    if len(document) == 0:
        raise UnreadablePdf("has no pages.")
    if len(document) > most_pages:
        raise UnreadablePdf(f"has {len(document)} pages. At most {most_pages} can be read at once.")
    labels = []
    for number in range(len(document)):
        page = document[number]
        width, height = page.get_size()
        if not (0 < width <= LARGEST_PAGE and 0 < height <= LARGEST_PAGE):
            raise UnreadablePdf(f"has a page of {width / 72:.0f} × {height / 72:.0f} in, which is not a label.")
        labels += [_label(page, number, region, gray) for region, gray in _parts(page)]
        page.close()
    document.close()
    return labels


def drawn(file: str, number: int, region: Region, dpi: int) -> dict[str, Any]:
    """Return one label's image as a plain record, with its gray levels in base 64."""
    document = opened(file)
    page = document[number]
    height, by = page.get_size()[1], dpi / 72
    whole = Gray.of(page, dpi)
    left, bottom, right, top = region
    box = (left * by, (height - top) * by, right * by, (height - bottom) * by)
    inside = (whole.width, whole.height, whole.width, whole.height)
    part = whole.part(*(max(0, min(round(side), most)) for side, most in zip(box, inside, strict=True)))
    page.close()
    document.close()
    return {"width": part.width, "height": part.height, "gray": base64.b64encode(part.data).decode()}


def opened(file: str) -> Any:
    """Return the open document. Raise UnreadablePdf when it is no PDF, damaged or encrypted."""
    import pypdfium2

    try:
        return pypdfium2.PdfDocument(file)
    except pypdfium2.PdfiumError as fault:
        locked = "password" in str(fault).lower()
        why = "is locked with a password. Save it without one." if locked else "is not a PDF, or it is damaged."
        raise UnreadablePdf(why) from fault


class Gray:
    """A page, or a part of one, as gray levels."""

    def __init__(self, data: bytes, width: int, height: int, stride: int) -> None:
        self.data, self.width, self.height, self.stride = data, width, height, stride

    @classmethod
    def of(cls, page: Any, dpi: int = DPI) -> Gray:
        """Return the whole page at that many dots per inch."""
        picture = page.render(scale=dpi / 72, grayscale=True, may_draw_forms=False)
        made = cls(bytes(picture.buffer), picture.width, picture.height, picture.stride)
        picture.close()
        return made

    def part(self, left: int, top: int, right: int, bottom: int) -> Gray:
        """Return a rectangle of it, in dots."""
        rows = (self.data[y * self.stride + left : y * self.stride + right] for y in range(top, bottom))
        return Gray(b"".join(rows), right - left, bottom - top, right - left)

    def dark_rows(self) -> list[bool]:
        """Return, for each row, whether it has something dark."""
        return [1 in self.row(y).translate(DARK) for y in range(self.height)]

    def dark_columns(self) -> list[bool]:
        """Return, for each column, whether it has something dark."""
        dark = self.data.translate(DARK)
        return [1 in dark[x :: self.stride] for x in range(self.width)]

    def row(self, y: int) -> bytes:
        """Return one row."""
        return self.data[y * self.stride : y * self.stride + self.width]

    def ink(self) -> float:
        """Return the dark fraction."""
        dark = sum(self.row(y).translate(DARK).count(1) for y in range(self.height))
        return dark / max(self.width * self.height, 1)


def _parts(page: Any) -> Iterator[tuple[Region, Gray]]:
    """Yield a page's labels: the whole page, or the halves and quarters that white gutters divide it into."""
    whole = Gray.of(page)
    xs, ys = [0, whole.width], [0, whole.height]
    if max(page.get_size()) > LABEL_SIDE:
        ys[1:1] = _gutter(whole.dark_rows())
        xs[1:1] = _gutter(whole.dark_columns()) if whole.width > 6 * DPI else []
    alone = len(xs) == len(ys) == 2 and max(page.get_size()) <= LABEL_SIDE
    for top, bottom in pairwise(ys):
        for left, right in pairwise(xs):
            part = whole.part(left, top, right, bottom)
            if part.ink() < LEAST_INK:
                continue
            box = (0, 0, part.width, part.height) if alone else _bounds(part)
            yield _region(page, left + box[0], top + box[1], left + box[2], top + box[3]), part


def _gutter(dark: list[bool]) -> list[int]:
    """Return the middle of the widest white band near the center, if any."""
    best, start = (0, 0), None
    low, high = int(len(dark) * MIDDLE[0]), int(len(dark) * MIDDLE[1])
    for at in range(low, high + 1):
        if at < high and not dark[at]:
            start = at if start is None else start
        elif start is not None:
            best, start = max(best, (at - start, (at + start) // 2)), None
    return [best[1]] if best[0] >= GUTTER * DPI / 72 else []


def _bounds(part: Gray) -> tuple[int, int, int, int]:
    rows, columns = part.dark_rows(), part.dark_columns()
    return (
        columns.index(True), rows.index(True),
        len(columns) - columns[::-1].index(True), len(rows) - rows[::-1].index(True),
    )  # fmt: skip


def _region(page: Any, left: int, top: int, right: int, bottom: int) -> Region:
    width, height = page.get_size()
    by = 72 / DPI
    return max(0.0, left * by), max(0.0, height - bottom * by), min(width, right * by), min(height, height - top * by)


def _label(page: Any, number: int, region: Region, gray: Gray) -> dict[str, Any]:
    text = page.get_textpage()
    words = text.get_text_bounded(*user_space(page, region))
    text.close()
    # read an image again at double resolution
    codes = _codes(gray) or ([] if words.strip() else _codes(Gray.of(page, 2 * DPI)))
    return {
        "page": number,
        "page_size": page.get_size(),
        "region": region,
        "text": words[:20_000],
        "codes": codes,
    }


def _codes(gray: Gray) -> list[str]:
    import zxingcpp

    reader: Any = zxingcpp
    view = reader.ImageView(gray.data, gray.width, gray.height, zxingcpp.ImageFormat.Lum, gray.stride)
    return [str(code.text) for code in reader.read_barcodes(view)]


def user_space(page: Any, region: Region) -> Region:
    """Return a visible rectangle of the page in its content's coordinates (left, bottom, right, top)."""
    left, bottom, right, top = region
    width, height = page.get_size()
    x, y = page.get_cropbox()[:2]
    turned = {
        0: (left, bottom, right, top),
        90: (height - top, left, height - bottom, right),
        180: (width - right, height - top, width - left, height - bottom),
        270: (bottom, width - right, top, width - left),
    }[page.get_rotation() % 360]
    return turned[0] + x, turned[1] + y, turned[2] + x, turned[3] + y
