"""Split into packages: which items of an order are in which package, and back into fewer.

Until it is split, an order in several packages abroad has a stop. A split is saved for the same set of products. An
order of a single item can go in parts: then no package says what is in it.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from desk.customs.declaration import destination_of
from desk.customs.form import may_be_declared
from desk.domain.faults import Refused
from desk.domain.orders.order import Order
from desk.domain.orders.packages import PackedItem, Packing, packed_as, packed_orders
from desk.domain.orders.piece import PieceKey
from desk.session.sitting import Sitting
from desk.store.tables import orders, packages, pieces, settings
from desk.store.tables.pieces import StoredPiece
from desk.store.transaction import Transaction

MOST_PARTS = 9  # packages that one item may be shipped in
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
        fitting = (one for one in reversed(self.known) if one.products == products and len(one.packings) == count)
        return next((one.packings for one in fitting), None)

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
    existing: int  # packages there are already; saving the split adds what is missing, or removes the last ones
    references: tuple[str, ...]
    lines: tuple[SplitLine, ...]
    is_saved: bool
    may_need_form: bool = False  # then each package declares whole items

    @property
    def is_one_item(self) -> bool:
        """True when the order is one item, so its packages can only hold parts of it."""
        return sum(line.ordered for line in self.lines) == 1

    @property
    def least(self) -> int:
        """The fewest packages to choose: one only takes back a split."""
        return 1 if self.existing > 1 else 2

    @property
    def most(self) -> int:
        """The most packages this order can be split into: each has an item, or without a form a part of one."""
        parts = MOST_PARTS if self.is_one_item and not self.may_need_form else 0
        return max(self.existing, parts, sum(line.ordered for line in self.lines))


def split_view(sitting: Sitting, piece_id: int, count: int | None = None) -> SplitView:
    """Return an order with the contents of each package: as saved, else as last time, else all in the first.

    With a count larger than the packages there are, the others are proposed; saving the split adds them. With a
    smaller one, saving removes the last ones. KeyError when there is no such piece.
    """
    with sitting.store.reading() as conn:
        order_id = pieces.piece(conn, piece_id).order_id
        several = pieces.of_orders(conn, [order_id])
        order = orders.order(conn, order_id).order
        known = settings.read(conn, REMEMBERED, Divisions())
    count = len(several) if count is None else count
    keys = [piece.key for piece in several][:count]
    after = max(key.piece for key in keys) + 1
    keys += [PieceKey(order.number, number) for number in range(after, after + count - len(keys))]
    packings: Sequence[Packing] = [piece.packing for piece in several]
    is_saved = len(keys) == len(several) > 1 and packed_orders(order, packings) is not None
    if not is_saved:
        packings = known.for_products(products_of(order), len(keys)) or _all_in_first(order, len(keys))
    return SplitView(
        order=order.number,
        existing=len(several),
        references=tuple(key.reference for key in keys),
        lines=tuple(_line(order, item, packings) for item in products_of(order)),
        is_saved=is_saved,
        may_need_form=may_be_declared(destination_of(order.address)),
    )


def split_order(sitting: Sitting, packings: Mapping[PieceKey, Packing]) -> tuple[PieceKey, ...]:
    """Save the contents of each package, as one step; return the keys that match no order.

    Counts that don't add up to the order are saved too; the order has a stop until they do. Refused when a piece is
    paid for.
    """
    numbers = ", ".join(dict.fromkeys(key.order for key in packings))
    with sitting.store.act(_step(numbers), at_bench=True) as tx:
        ids = _save(tx, packings)
    sitting.announce(sitting.store.last_changes)
    return tuple(key for key in packings if key not in ids)


def split_unpaid(sitting: Sitting, packings: Mapping[PieceKey, Packing]) -> None:
    """Save the package contents given in a file, except for pieces already paid for."""
    with sitting.store.reading() as conn:
        paid = {piece.key for piece in pieces.all_pieces(conn) if piece.is_paid} if packings else set()
    if wanted := {key: packing for key, packing in packings.items() if key not in paid}:
        split_order(sitting, wanted)


def split_by_counts(sitting: Sitting, view: SplitView, counts: Sequence[Sequence[int]]) -> None:
    """Save how many of each line are in each package, with as many packages as the view has, as one step.

    A package that holds less or more than when it was weighed is weighed again, when packages were added or removed.
    Refused when they don't add up to the quantity ordered, or when a package to remove is paid for or has its label.
    """
    packings = _packings(view, counts)
    name = _step(view.order) if len(packings) > 1 else f"Put {view.order} back in one package"
    with sitting.store.act(name, at_bench=True) as tx:
        if len(packings) < view.existing:
            _remove_others(tx, packings, are_parts=view.is_one_item)
        elif len(packings) > view.existing:
            _weigh_again(tx, packings, all_give=view.existing == 1 or view.is_one_item)
        _save(tx, packings)
    sitting.announce(sitting.store.last_changes)


def _packings(view: SplitView, counts: Sequence[Sequence[int]]) -> dict[PieceKey, Packing]:
    """Return what is in each package; empty for a single one, and for the parts of a single item."""
    keys = [PieceKey(view.order, int(reference.rpartition("-")[2])) for reference in view.references]
    if len(keys) == 1 or view.is_one_item:
        return dict.fromkeys(keys, ())
    for line, each in zip(view.lines, counts, strict=True):
        if sum(each) != line.ordered or min(each) < 0:
            raise Refused(f"{line.item}: {line.ordered} ordered, {sum(each)} packed.")
    packings = [
        tuple(PackedItem(line.what, each[at]) for line, each in zip(view.lines, counts, strict=True) if each[at])
        for at in range(len(keys))
    ]
    empty = next((key.reference for key, one in zip(keys, packings, strict=True) if not one), "")
    if empty:
        raise Refused(f"{empty} has nothing in it. Put an item in it, or choose fewer packages.")
    return dict(zip(keys, packings, strict=True))


def _step(numbers: str) -> str:
    return f"Split {numbers} into packages"


def _save(tx: Transaction, packings: Mapping[PieceKey, Packing]) -> dict[PieceKey, int]:
    """Save the contents of packages, adding missing ones, and remember whole splits; return the pieces' ids."""
    ids = pieces.ensure_pieces(tx, packings)
    changed = pieces.set_packing(tx, {number: packings[key] for key, number in ids.items()})
    several = pieces.of_orders(tx.conn, {piece.order_id for piece in pieces.some_pieces(tx.conn, changed)})
    known = settings.read(tx.conn, REMEMBERED, Divisions())
    fresh = known
    for order_id in dict.fromkeys(piece.order_id for piece in several):
        order = orders.order(tx.conn, order_id).order
        packed = tuple(piece.packing for piece in several if piece.order_id == order_id)
        if len(packed) > 1 and packed_orders(order, packed) is not None:
            fresh = fresh.and_(Division(products_of(order), packed))
    if fresh != known:
        settings.write(tx, REMEMBERED, fresh)
    return ids


def _remove_others(tx: Transaction, packings: Mapping[PieceKey, Packing], *, are_parts: bool) -> None:
    """Remove an order's other packages. Those that stay are weighed again if they may hold more than before.

    `are_parts`: they hold parts of a single item, so those that stay get what was in the others.
    """
    ids = pieces.ensure_pieces(tx, packings)
    staying = {piece.id: piece for piece in pieces.some_pieces(tx.conn, ids.values())}
    several = pieces.of_orders(tx.conn, {piece.order_id for piece in staying.values()})
    numbers = {key.order for key in packings}
    gone = [piece for piece in several if piece.key not in packings and piece.key.order in numbers]
    packages.remove(tx, [piece.id for piece in gone])
    if any(piece.weighing for piece in gone):
        pieces.clear_weights(tx, staying)
    else:
        get_a_part = {one.id for one in staying.values() if are_parts and not one.is_paid}
        changed = {number for key, number in ids.items() if _holds_another(staying[number], packings[key])}
        pieces.clear_weights(tx, get_a_part | changed)


def _weigh_again(tx: Transaction, packings: Mapping[PieceKey, Packing], *, all_give: bool) -> None:
    """Clear the weights of an order's unpaid packages that give something to added ones; `all_give`: all of them do."""
    known = pieces.some_pieces(tx.conn, pieces.ensure_pieces(tx, packings).values())
    weighed = [one for one in known if one.weighing is not None and not one.is_paid]
    others = (one for one in weighed if not all_give and one.packing == packings.get(one.key))
    pieces.clear_weights(tx, {one.id for one in weighed} - {one.id for one in others})


def _holds_another(before: StoredPiece, after: Packing) -> bool:
    """Return whether a package with known contents holds something else now."""
    return bool(before.packing) and before.packing != after


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
