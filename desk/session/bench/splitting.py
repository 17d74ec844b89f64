"""Split into packages: which items of an order are in which package.

Until it is split, an order in several packages abroad has a stop. A split is saved for the same set of products.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from desk.domain.faults import Refused
from desk.domain.orders.order import Order
from desk.domain.orders.packages import PackedItem, Packing, packed_as, packed_orders
from desk.domain.orders.piece import PieceKey
from desk.session.sitting import Sitting
from desk.store.tables import orders, pieces, settings

REMEMBERED = "divisions by products"  # the setting they are saved under
MOST_REMEMBERED = 200


@dataclass(frozen=True, slots=True)
class Division:
    """How a set of products was split last time: the products, and the contents of each package."""

    products: Packing
    packings: tuple[Packing, ...]


@dataclass(frozen=True, slots=True)
class Divisions:
    """The saved splits, newest last."""

    known: tuple[Division, ...] = ()

    def for_products(self, products: Packing, count: int) -> tuple[Packing, ...] | None:
        """Return how these products were split over that many packages last time; None if they never were."""
        found = (one for one in reversed(self.known) if one.products == products and len(one.packings) == count)
        return next((one.packings for one in found), None)

    def and_(self, fresh: Division) -> Divisions:
        """Return these splits with one more, which replaces an older one for the same products and package count."""
        others = [
            one for one in self.known if (one.products, len(one.packings)) != (fresh.products, len(fresh.packings))
        ]
        return Divisions((*others, fresh)[-MOST_REMEMBERED:])


@dataclass(frozen=True, slots=True)
class SplitLine:
    """One item of an order: its packing name, its words, the quantity, and the quantity in each package."""

    what: str
    item: str
    ordered: int
    counts: tuple[int, ...]


@dataclass(frozen=True, slots=True)
class SplitView:
    """An order to split. `is_saved` is False while the counts are only proposed."""

    order: str
    existing: int  # packages there are already; the rest are added when the split is saved
    references: tuple[str, ...]
    lines: tuple[SplitLine, ...]
    is_saved: bool

    @property
    def most(self) -> int:
        """The most packages this order can be split into: each has an item."""
        return max(self.existing, sum(line.ordered for line in self.lines))


def split_view(sitting: Sitting, piece_id: int, count: int = 1) -> SplitView:
    """Return an order with the contents of each package: as saved, else as last time, else all in the first.

    With a count larger than the packages there are, the others are proposed; saving the split adds them.
    KeyError when there is no such piece.
    """
    with sitting.store.reading() as conn:
        order_id = pieces.piece(conn, piece_id).order_id
        several = pieces.of_orders(conn, [order_id])
        order = orders.order(conn, order_id).order
        known = settings.read(conn, REMEMBERED, Divisions())
    keys = [piece.key for piece in several]
    fresh = range(max(key.piece for key in keys) + 1, max(key.piece for key in keys) + 1 + count - len(keys))
    keys += [PieceKey(order.number, number) for number in fresh]
    packings: Sequence[Packing] = [*(piece.packing for piece in several), *[()] * len(fresh)]
    is_saved = len(keys) > 1 and not fresh and packed_orders(order, packings) is not None
    if not is_saved:
        packings = known.for_products(products_of(order), len(keys)) or _all_in_first(order, len(keys))
    return SplitView(
        order=order.number,
        existing=len(several),
        references=tuple(key.reference for key in keys),
        lines=tuple(_line(order, item, packings) for item in products_of(order)),
        is_saved=is_saved,
    )


def split_order(sitting: Sitting, packings: Mapping[PieceKey, Packing]) -> tuple[PieceKey, ...]:
    """Save the contents of each package, as one step; return the keys that match no order.

    Counts that don't add up to the order are saved too; the order has a stop until they do. Refused when a piece is
    paid for.
    """
    numbers = ", ".join(dict.fromkeys(key.order for key in packings))
    with sitting.store.act(f"Split {numbers} into packages", at_bench=True) as tx:
        ids = pieces.ensure_pieces(tx, packings)
        changed = pieces.set_packing(tx, {number: packings[key] for key, number in ids.items()})
        several = pieces.of_orders(tx.conn, {piece.order_id for piece in pieces.some_pieces(tx.conn, changed)})
        known = settings.read(tx.conn, REMEMBERED, Divisions())
        fresh = known
        for order_id in dict.fromkeys(piece.order_id for piece in several):
            order = orders.order(tx.conn, order_id).order
            packed = tuple(piece.packing for piece in several if piece.order_id == order_id)
            if packed_orders(order, packed) is not None:
                fresh = fresh.and_(Division(products_of(order), packed))
        if fresh != known:
            settings.write(tx, REMEMBERED, fresh)
    sitting.announce(sitting.store.last_changes)
    return tuple(key for key in packings if key not in ids)


def split_unpaid(sitting: Sitting, packings: Mapping[PieceKey, Packing]) -> None:
    """Save the package contents given in a file, except for pieces already paid for."""
    with sitting.store.reading() as conn:
        paid = {piece.key for piece in pieces.all_pieces(conn) if piece.is_paid} if packings else set()
    if wanted := {key: packing for key, packing in packings.items() if key not in paid}:
        split_order(sitting, wanted)


def split_by_counts(sitting: Sitting, view: SplitView, counts: Sequence[Sequence[int]]) -> None:
    """Save how many of each line are in each package. Refused when they don't add up to the quantity ordered."""
    for line, each in zip(view.lines, counts, strict=True):
        if sum(each) != line.ordered or min(each) < 0:
            raise Refused(f"{line.item}: {line.ordered} ordered, {sum(each)} packed.")
    packings = [
        tuple(PackedItem(line.what, each[at]) for line, each in zip(view.lines, counts, strict=True) if each[at])
        for at in range(len(view.references))
    ]
    empty = next((reference for reference, one in zip(view.references, packings, strict=True) if not one), "")
    if empty:
        raise Refused(f"{empty} has nothing in it. Put an item in it, or choose fewer packages.")
    keys = [PieceKey(view.order, int(reference.rpartition("-")[2])) for reference in view.references]
    split_order(sitting, dict(zip(keys, packings, strict=True)))


def products_of(order: Order) -> Packing:
    """Return the items of an order, each once, with the quantity ordered."""
    counts: dict[str, int] = {}
    for line in order.lines:
        counts[packed_as(line)] = counts.get(packed_as(line), 0) + line.quantity
    return tuple(PackedItem(what, count) for what, count in counts.items())


def _all_in_first(order: Order, count: int) -> tuple[Packing, ...]:
    return (products_of(order), *[()] * (count - 1))


def _line(order: Order, item: PackedItem, packings: Sequence[Packing]) -> SplitLine:
    words = next(line.item for line in order.lines if packed_as(line) == item.what)
    counts = tuple(
        sum(one.count for one in packing if one.what.casefold() == item.what.casefold()) for packing in packings
    )
    return SplitLine(item.what, words, item.count, counts)
