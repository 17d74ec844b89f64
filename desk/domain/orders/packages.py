"""An order that ships in several packages: which items are in each, and each package as its own order.

Values: a line's value after its discount is divided over packages by cumulative shares, so that all packages together
declare exactly the order's value (largest remainder, as in `money.shared_out`).
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, fields, replace

from desk.domain.money import Money, zero
from desk.domain.orders.order import Order, OrderLine

_ITEM = re.compile(r"(?P<what>.+?)(?:\s*[x\u00d7]\s*(?P<count>[0-9]{1,6}))?", re.IGNORECASE)


@dataclass(frozen=True, slots=True)
class PackedItem:
    """A number of one item in one package. `what` is the order line's SKU, or else its item name."""

    what: str
    count: int


Packing = tuple[PackedItem, ...]


@dataclass(frozen=True, slots=True)
class OrderPart(Order):
    """The contents of one package of an order, as an order. `values` is each line's value, `declared` its declared
    value.
    """

    values: tuple[Money, ...] = ()
    declared: tuple[Money, ...] = ()

    @property
    def goods_value(self) -> Money:
        """Return the sum of its lines' values."""
        return sum(self.values, zero(self.currency))

    @property
    def line_values(self) -> tuple[Money, ...]:
        """Return each line's value, as divided from the whole order."""
        return self.values

    @property
    def customs_values(self) -> tuple[Money, ...]:
        """Return each line's declared value, as divided from the whole order."""
        return self.declared

    def only(self, places: Sequence[int]) -> OrderPart:
        """Return the part with the lines at these places alone, each with its worth."""
        nothing = (zero(self.currency),)
        return replace(
            self,
            lines=tuple(self.lines[place] for place in places) or (OrderLine("", 1, *nothing),),
            values=tuple(self.values[place] for place in places) or nothing,
            declared=tuple(self.declared[place] for place in places) or nothing,
        )

    @property
    def declared_value(self) -> Money:
        """Return the sum of its lines' declared values."""
        return sum(self.declared, zero(self.declared[0].currency if self.declared else self.currency))


def packed_as(line: OrderLine) -> str:
    """Return the name under which a line is packed."""
    return line.sku or line.item


def read_packing(text: str) -> Packing:
    """Return the items in `sku x2; sku2 x1` (a name alone counts as one). Raises ValueError for an unreadable item."""
    parts = []
    for part in filter(None, (each.strip() for each in text.split(";"))):
        read = _ITEM.fullmatch(part)
        count = int(read["count"] or 1) if read else 0
        if not read or not count:
            raise ValueError(part)
        parts.append(PackedItem(read["what"].strip(), count))
    return tuple(parts)


def packed_orders(order: Order, packings: Sequence[Packing]) -> tuple[Order, ...] | None:
    """Return the order's part in each package; None unless the packages hold exactly the order, and none is empty."""
    if not packings or not all(packings):
        return None
    left = [line.quantity for line in order.lines]
    taken: list[list[int]] = []
    for packing in packings:
        counts = _taken(order, packing, left)
        if counts is None:
            return None
        taken.append(counts)
    if any(left):
        return None
    return tuple(_parts(order, taken))


def _taken(order: Order, packing: Packing, left: list[int]) -> list[int] | None:
    """Return how many of each line a package takes, and reduce `left` by them; None when there are not enough."""
    counts = [0] * len(order.lines)
    for item in packing:
        wanted = item.count
        for at, line in enumerate(order.lines):
            if item.what.casefold() in (line.sku.casefold(), line.item.casefold()):
                here = min(wanted, left[at])
                counts[at] += here
                left[at] -= here
                wanted -= here
        if wanted:
            return None
    return counts


def _parts(order: Order, taken: Sequence[Sequence[int]]) -> Iterator[OrderPart]:
    same = {field.name: getattr(order, field.name) for field in fields(Order)}
    before = [0] * len(order.lines)
    worth = list(zip(order.lines, order.line_values, order.customs_values, strict=True))
    for counts in taken:
        lines: list[OrderLine] = []
        values: list[Money] = []
        declared: list[Money] = []
        for at, ((line, value, customs_value), count) in enumerate(zip(worth, counts, strict=True)):
            if count:
                span = (before[at], before[at] + count, line.quantity)
                lines.append(replace(line, quantity=count))
                values.append(_share(value, *span))
                declared.append(_share(customs_value, *span))
                before[at] += count
        own = {"lines": tuple(lines), "values": tuple(values), "declared": tuple(declared)}
        yield OrderPart(**{**same, **own})


def _share(value: Money, start: int, end: int, of: int) -> Money:
    return Money(value.minor * end // of - value.minor * start // of, value.currency)
