"""Stock: what is loaded in a printer, and where on it a paper of a given size is drawn.

Sizes are data: one line each in `STOCKS`, and the shop can add its own. Outside this module lengths are in points (72
per inch). Label sheets: common practice, no source; the shop checks them with the test page.
"""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal
from enum import StrEnum

INCH = 72.0
MILLIMETER = INCH / 25.4
PageSize = tuple[float, float]
EDGE_OF_PLAIN = 0.125 * INCH  # most office printers cannot print closer to the edge (common practice, no source)


class StockKind(StrEnum):
    """How labels are arranged on the stock."""

    ROLL = "roll"  # one label per page
    LABEL_SHEET = "label sheet"  # a page of precut labels
    PLAIN = "plain paper"  # a page to cut up


@dataclass(frozen=True, slots=True)
class Box:
    """A rectangle in points, from the lower left corner of the page."""

    left: float
    bottom: float
    width: float
    height: float

    @property
    def right(self) -> float:
        """Return the right edge."""
        return self.left + self.width

    @property
    def top(self) -> float:
        """Return the top edge."""
        return self.bottom + self.height

    def overlaps(self, other: Box, by: float = 0.0) -> bool:
        """Return True when the two overlap by more than `by` points in both directions."""
        return (
            min(self.right, other.right) - max(self.left, other.left) > by
            and min(self.top, other.top) - max(self.bottom, other.bottom) > by
        )

    def holds(self, other: Box, by: float = 0.0) -> bool:
        """Return True when the other is inside, or outside by at most `by` points."""
        return (
            other.left >= self.left - by
            and other.bottom >= self.bottom - by
            and other.right <= self.right + by
            and other.top <= self.top + by
        )


@dataclass(frozen=True, slots=True, kw_only=True)
class Stock:
    """One kind of paper or label. Lengths are in `unit` (`in` or `mm`); label fields matter for label sheets only."""

    id: str
    words: str
    kind: StockKind
    width: Decimal
    height: Decimal
    unit: str = "in"
    across: int = 1
    down: int = 1
    label_width: Decimal = Decimal(0)
    label_height: Decimal = Decimal(0)
    left: Decimal = Decimal(0)
    top: Decimal = Decimal(0)
    gap_across: Decimal = Decimal(0)
    gap_down: Decimal = Decimal(0)

    @property
    def page(self) -> PageSize:
        """Return a page's width and height in points."""
        return self._points(self.width), self._points(self.height)

    def labels(self) -> tuple[Box, ...]:
        """Return the labels of one page in reading order; the whole page for rolls and plain paper."""
        width, height = self.page
        if self.kind is not StockKind.LABEL_SHEET:
            return (Box(0.0, 0.0, width, height),)
        wide, high = self._points(self.label_width), self._points(self.label_height)
        return tuple(
            Box(
                self._points(self.left) + column * (wide + self._points(self.gap_across)),
                height - self._points(self.top) - high - row * (high + self._points(self.gap_down)),
                wide,
                high,
            )
            for row in range(self.down)
            for column in range(self.across)
        )

    def _points(self, length: Decimal) -> float:
        return float(length) * (INCH if self.unit == "in" else MILLIMETER)


def _stock(stock_id: str, words: str, kind: StockKind, size: str, unit: str = "in", **labels: str | int) -> Stock:
    width, height = map(Decimal, size.split(" x "))
    facts = {name: value if isinstance(value, int) else Decimal(value) for name, value in labels.items()}
    return Stock(id=stock_id, words=words, kind=kind, width=width, height=height, unit=unit, **facts)  # type: ignore[arg-type]


USUAL = "roll-4x6"
STOCKS = (
    _stock(USUAL, "4 × 6 in labels", StockKind.ROLL, "4 x 6"),
    _stock("roll-4x2", "4 × 2 in labels", StockKind.ROLL, "4 x 2"),
    _stock("roll-100x150", "100 × 150 mm labels", StockKind.ROLL, "100 x 150", "mm"),
    _stock(
        "sheet-4x2", "Letter sheet of ten labels, 4 × 2 in", StockKind.LABEL_SHEET, "8.5 x 11",
        across=2, down=5, label_width="4", label_height="2", left="0.15625", top="0.5", gap_across="0.1875",
    ),
    _stock(
        "sheet-4x3.33", "Letter sheet of six labels, 4 × 3 1/3 in", StockKind.LABEL_SHEET, "8.5 x 11",
        across=2, down=3, label_width="4", label_height="3.3333", left="0.15625", top="0.5", gap_across="0.1875",
    ),
    _stock("letter", "Plain letter paper, 8 1/2 × 11 in", StockKind.PLAIN, "8.5 x 11"),
    _stock("a4", "Plain A4 paper, 210 × 297 mm", StockKind.PLAIN, "210 x 297", "mm"),
)  # fmt: skip


class DoesNotFit(ValueError):
    """A size that cannot be printed: its labels do not fit, or it is no page at all; the message is a sentence."""


def checked(stock: Stock) -> Stock:
    """Return the stock. Raises DoesNotFit when it is too small to print on or its labels go over the edge."""
    width, height = stock.page
    if not (1.5 * INCH <= width <= 24 * INCH and 1 * INCH <= height <= 24 * INCH):
        raise DoesNotFit("A page must be between 1.5 × 1 in and 24 × 24 in.")
    page = Box(0.0, 0.0, width, height)
    if stock.across < 1 or stock.down < 1 or not all(page.holds(label, 0.01) for label in stock.labels()):
        raise DoesNotFit("The labels go over the edge of the page. Check sizes, margins and gaps.")
    if any(label.width < 1.5 * INCH or label.height < INCH for label in stock.labels()):
        raise DoesNotFit("A label must be at least 1.5 × 1 in.")
    return stock


def cells(stock: Stock, form: PageSize, *, several: bool = True) -> tuple[Box, ...]:
    """Return where papers of size `form` go on one page of the stock, in reading order.

    Plain paper is divided into as many forms as fit, centered. A label gets one form, at its top, or with `several` as
    many as fit below each other.
    """
    if stock.kind is StockKind.PLAIN:
        return _grid(stock.page, form)
    return tuple(part for label in stock.labels() for part in _divided(label, form)[: None if several else 1])


def _grid(page: PageSize, form: PageSize) -> tuple[Box, ...]:
    width, height = page
    across = max(1, int((width - EDGE_OF_PLAIN) / form[0]))
    down = max(1, int((height - 2 * EDGE_OF_PLAIN) / form[1]))
    wide, high = min(form[0], width), min(form[1], height)
    left, top = (width - across * wide) / 2, height - (height - down * high) / 2
    return tuple(
        Box(left + column * wide, top - (row + 1) * high, wide, high) for row in range(down) for column in range(across)
    )


def _divided(label: Box, form: PageSize) -> tuple[Box, ...]:
    rows = max(1, int((label.height + 0.01) / form[1]))
    high = label.height / rows if rows == 1 else form[1]
    return tuple(Box(label.left, label.top - (row + 1) * high, label.width, high) for row in range(rows))
