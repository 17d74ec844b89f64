"""Items of an order written with their counts in one cell: "2x Notebook; 1x Pen", or "Bookmark x 3, Card x 2"."""

from __future__ import annotations

import re

from desk.intake.orders.order_lines import KnownProducts, LineCells

_COUNT = "([1-9][0-9]{0,2})"
_BETWEEN = " ?[;,|+&\n] ?"
_COUNT_FIRST = re.compile(rf"{_COUNT} ?[x\u00d7] (?=[^\W\d_])")  # "4 x 6 print" is a size, "2X Large" too
_COUNT_LAST = re.compile(rf"(.+?) [x\u00d7] ?{_COUNT}(?:{_BETWEEN}|$)", re.DOTALL)
_SIGNS = frozenset(["", *";,|+&\n"])
_UNCOUNTED = re.compile(r"[;|\n]")  # another item follows; a comma may be part of a name
# A size such as "Print 9 in x 12".
_SIZE = re.compile(r"(?<!\S)\d[\d.,/]*\s*(in|inch|inches|ft|cm|mm|m|[\"'\u2032\u2033])?$", re.IGNORECASE)


def counted_items(line: LineCells, products: KnownProducts) -> list[LineCells]:
    """Return a line for each item in the cell, with its count; the line itself when not every item there has one.

    A line with a quantity, SKU, variant or amount of its own stays as it is, and so does a product of the shop that is
    called so. A single count may be part of a name ("10x Magnifying glass") unless the rest is a product of the shop.
    """
    if any(line[1:]) or products.kind(line):
        return [line]
    text = re.sub(r"\s*\n\s*", "\n", re.sub(r"[^\S\n]+", " ", line.item.strip()))
    found = [LineCells(item=item, quantity=count) for count, item in _count_first(text) or _count_last(text)]
    if len(found) == 1 and not products.kind(found[0]):
        return [line]
    return found or [line]


def _count_first(text: str) -> list[tuple[str, str]]:
    """Return the counts and items of "2x Notebook; 1x Pen"."""
    starts = [match for match in _COUNT_FIRST.finditer(text) if _starts_item(text[: match.start()])]
    if not starts or starts[0].start() > 0:
        return []
    ends = [*(match.start() for match in starts[1:]), len(text)]
    items = [re.sub(f"{_BETWEEN}$", "", text[match.end() : end]) for match, end in zip(starts, ends, strict=True)]
    if any(_UNCOUNTED.search(item) or _COUNT_LAST.fullmatch(item) for item in items):
        return []
    return [(match[1], item) for match, item in zip(starts, items, strict=True)]


def _starts_item(before: str) -> bool:
    return before.strip(" ")[-1:] in _SIGNS


def _count_last(text: str) -> list[tuple[str, str]]:
    """Return the counts and items of "Bookmark x 3, Card x 2"."""
    found, end = [], 0
    while end < len(text):
        match = _COUNT_LAST.match(text, end)
        if match is None or _SIZE.search(match[1]) or _UNCOUNTED.search(match[1]):
            return []
        found.append((match[2], match[1]))
        end = match.end()
    return found
