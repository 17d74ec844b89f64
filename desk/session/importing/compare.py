"""Compare an order list with the saved orders: new, unchanged, changed field by field, or canceled since.

Comparing changes nothing. An import is one step: every new order, the accepted changes, and canceled orders set aside,
all or nothing.
"""

from __future__ import annotations

from collections.abc import Collection, Iterator, Sequence
from dataclasses import dataclass, fields

from desk.domain.codes import Code
from desk.domain.faults import Refused
from desk.domain.money import Money
from desk.domain.orders.order import Order, OrderLine
from desk.domain.orders.piece import PieceKey
from desk.domain.places.address import Address
from desk.domain.status import ORDER_CANCELED, PieceStatus
from desk.session.sitting import Sitting
from desk.session.unreported import report_later
from desk.session.words.figures import amount_words
from desk.session.words.issue_names import issue_name
from desk.store.tables import answers, orders, pieces
from desk.store.tables.orders import StoreView
from desk.store.transaction import Transaction
from desk.tables.watch import UNWATCHED, Watch

ASIDE_BEFORE = "set-aside-before"  # saved for a piece that had been set aside before
# Compared separately, or not at all.
_NOT_COMPARED = frozenset({"address", "lines", "charges", "findings", "number", "source"})


@dataclass(frozen=True, slots=True)
class Difference:
    """One changed field of an order: its name (`city`, `line 2`), the old value and the new one."""

    field: str
    before: str
    after: str


@dataclass(frozen=True, slots=True)
class ChangedOrder:
    """A saved order whose content changed. `under_way`: one of its pieces has its postage on, or has left.

    `edited`: it was corrected by hand before, and the list says otherwise.
    """

    number: str
    order: Order
    differences: tuple[Difference, ...]
    under_way: bool = False
    edited: bool = False

    @property
    def only_fills(self) -> bool:
        """True when nothing changes but fields that were empty before."""
        return not self.under_way and not self.edited and all(one.after and not one.before for one in self.differences)


@dataclass(frozen=True, slots=True)
class Canceled:
    """A saved order that now has a status to skip. `gone_out`: a piece has left and can't be set aside."""

    number: str
    status: str
    gone_out: bool = False


@dataclass(frozen=True, slots=True)
class ImportComparison:
    """What an import would do. `gone` are orders still to weigh that are missing in the list: reported, never touched.

    `back` are orders that were set aside as canceled and are no longer canceled.
    """

    new: tuple[Order, ...] = ()
    same: tuple[str, ...] = ()
    changed: tuple[ChangedOrder, ...] = ()
    canceled: tuple[Canceled, ...] = ()
    gone: tuple[str, ...] = ()
    back: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class ImportResult:
    """What an import did, as order numbers. `set_aside` were canceled; `left` are changes not accepted;

    `back` are in the queue again.
    """

    new: tuple[str, ...]
    changed: tuple[str, ...]
    left: tuple[str, ...]
    set_aside: tuple[str, ...]
    back: tuple[str, ...] = ()


def compare(
    sitting: Sitting,
    incoming: Sequence[Order],
    left_out: Sequence[tuple[str, str]] = (),
    watch: Watch = UNWATCHED,
    *,
    shipped: Sequence[tuple[str, str]] = (),
) -> ImportComparison:
    """Return how orders differ from the saved ones; `left_out` are (number, status) of those with a status to skip.

    `shipped` are orders the list marks as already shipped: they are reported and left alone.

    Stopped when `watch` reports a cancel.
    """
    with sitting.store.reading() as conn:
        return _compare(conn, _held(conn, incoming, watch), incoming, left_out, {number for number, _ in shipped})


def import_accepted(sitting: Sitting, preview: ImportComparison, accepted: Collection[str] = ()) -> ImportResult:
    """Import new orders and the changed orders whose numbers were accepted; set canceled ones aside. One step.

    Refused, with nothing done, when another bench changed one of these orders since the preview.
    """
    wanted = [changed.order for changed in preview.changed if changed.number in accepted]
    accepted_orders = [*preview.new, *wanted]
    with sitting.store.act("Orders imported", count=len(accepted_orders)) as tx:
        _refuse_moved(tx.conn, preview)
        saved = orders.save(tx, accepted_orders)
        pieces.ensure_pieces(tx, [PieceKey(order.number) for order in accepted_orders])
        aside, back = _set_aside(tx, preview.canceled), _put_back(tx, preview.back)
        report_later(tx, orders=[*saved.changed, *aside, *back])
    sitting.announce(sitting.store.last_changes)
    left = tuple(changed.number for changed in preview.changed if changed.number not in accepted)
    return ImportResult(saved.new, saved.changed, left, aside, back)


def import_all(
    sitting: Sitting,
    incoming: Sequence[Order],
    left_out: Sequence[tuple[str, str]] = (),
    shipped: Sequence[tuple[str, str]] = (),
) -> ImportResult:
    """Import a list with every change accepted, as an unattended run does."""
    preview = compare(sitting, incoming, left_out, shipped=shipped)
    return import_accepted(sitting, preview, [changed.number for changed in preview.changed])


def _held(conn: StoreView, incoming: Sequence[Order], watch: Watch) -> orders.OrderComparison:
    """Return new, unchanged and changed orders, a thousand at a time; of duplicates the later counts."""
    by_key = list({(order.source, order.number): order for order in incoming}.values())
    new: list[Order] = []
    same: list[Order] = []
    changed: dict[int, Order] = {}
    for some in watch.thousands(by_key):
        held = orders.compare_with_stored(conn, some)
        new += held.new
        same += held.same
        changed |= held.changed
    return orders.OrderComparison(tuple(new), tuple(same), changed)


def _compare(
    conn: StoreView,
    held: orders.OrderComparison,
    incoming: Sequence[Order],
    left_out: Sequence[tuple[str, str]],
    shipped: Collection[str],
) -> ImportComparison:
    before = orders.some_orders(conn, held.changed)
    of_changed = pieces.of_orders(conn, held.changed)
    under_way = {piece.order_id for piece, holder in _with_holders(conn, of_changed) if holder.is_paid}
    numbers = {order.number for order in incoming} | {number for number, _ in left_out} | set(shipped)
    changes = {number: tuple(differences(before[number].order, now)) for number, now in held.changed.items()}
    return ImportComparison(
        new=held.new,
        same=(
            *(order.number for order in held.same),
            *(held.changed[order_id].number for order_id, changed in changes.items() if not changed),
        ),
        changed=tuple(
            ChangedOrder(now.number, now, changes[number], number in under_way, is_edited(before[number].order))
            for number, now in held.changed.items()
            if changes[number]
        ),
        canceled=tuple(_canceled(conn, left_out)),
        gone=_gone(conn, numbers),
        back=tuple(
            dict.fromkeys(piece.key.order for piece in _canceled_before(conn, [one.number for one in incoming]))
        ),
    )


def is_edited(order: Order) -> bool:
    """Return True for an order that was corrected by hand."""
    return any(issue.code is Code.EDITED_BY_HAND for issue in order.findings)


def _canceled(conn: StoreView, left_out: Sequence[tuple[str, str]]) -> Iterator[Canceled]:
    """Return the saved orders among these that have to be set aside; one already set aside is not reported again."""
    ids = orders.ids_of(conn, [number for number, _ in left_out])
    by_order: dict[int, list[pieces.StoredPiece]] = {}
    for piece in pieces.of_orders(conn, ids.values()):
        by_order.setdefault(piece.order_id, []).append(piece)
    for number, status in left_out:
        here = [piece for piece in by_order.get(ids.get(number, 0), ()) if not _is_reported(piece)]
        if here:
            yield Canceled(number, status, any(holder.handed_over for _, holder in _with_holders(conn, here)))


def _is_reported(piece: pieces.StoredPiece) -> bool:
    """Return True when a piece is already set aside as canceled, or for a reason of its own."""
    if piece.beside is PieceStatus.SET_ASIDE:
        return ORDER_CANCELED in piece.answered
    return piece.beside is not None


def _gone(conn: StoreView, numbers: Collection[str]) -> tuple[str, ...]:
    waiting = pieces.numbers_to_weigh(conn)
    return tuple(number for number in waiting if number not in numbers) if numbers else ()


def _set_aside(tx: Transaction, canceled: Sequence[Canceled]) -> tuple[str, ...]:
    """Set aside the pieces that have not left; orders sent with them become separate pieces again.

    A piece that carries a canceled order and has its postage on is set aside too: it is closed and has to be opened.
    """
    ids = orders.ids_of(tx.conn, [order.number for order in canceled])
    holders = _with_holders(tx.conn, pieces.of_orders(tx.conn, ids.values()))
    here = [(piece, holder) for piece, holder in holders if not holder.handed_over]
    packed = [piece.id for piece, holder in here if holder is not piece]
    inside = pieces.inside(tx.conn, [piece.id for piece, _ in here])
    pieces.unpack(tx, [*packed, *(piece.id for piece in inside)])
    closed = [holder for _, holder in here if holder.is_paid]
    aside = {each.id: each for each in (*(piece for piece, _ in here), *closed)}
    pieces.set_beside(tx, aside, PieceStatus.SET_ASIDE, "canceled in the shop")
    for piece, _ in here:
        answers.answer(tx, piece.id, ORDER_CANCELED)
        if piece.beside is not None:
            answers.answer(tx, piece.id, ASIDE_BEFORE)
    return tuple(dict.fromkeys(each.key.order for each in aside.values()))


def _put_back(tx: Transaction, numbers: Sequence[str]) -> tuple[str, ...]:
    """Put back the pieces that were set aside only because their order was canceled."""
    canceled = _canceled_before(tx.conn, numbers)
    pieces.set_beside(tx, [piece.id for piece in canceled if ASIDE_BEFORE not in piece.answered], None)
    for piece in canceled:
        answers.withdraw(tx, piece.id, ORDER_CANCELED)
        answers.withdraw(tx, piece.id, ASIDE_BEFORE)
    return tuple(dict.fromkeys(piece.key.order for piece in canceled))


def _canceled_before(conn: StoreView, numbers: Sequence[str]) -> list[pieces.StoredPiece]:
    of_orders = pieces.of_orders(conn, orders.ids_of(conn, numbers).values())
    return [piece for piece in of_orders if piece.beside is PieceStatus.SET_ASIDE and ORDER_CANCELED in piece.answered]


def _with_holders(
    conn: StoreView, stored: Collection[pieces.StoredPiece]
) -> list[tuple[pieces.StoredPiece, pieces.StoredPiece]]:
    """Return each piece with the piece that carries it: the one it is sent with, else itself."""
    carriers = {piece.together_with for piece in stored if piece.together_with is not None}
    known = {piece.id: piece for piece in pieces.some_pieces(conn, carriers)}
    return [(piece, known.get(piece.together_with or 0, piece)) for piece in stored]


def _refuse_moved(conn: StoreView, preview: ImportComparison) -> None:
    """Refuse when these orders changed in the store since they were compared."""
    held = orders.compare_with_stored(conn, [*preview.new, *(changed.order for changed in preview.changed)])
    before = orders.some_orders(conn, held.changed)
    moved = len(held.new) != len(preview.new) or len(held.changed) != len(preview.changed)
    now = {order.number: (before[number].order, order) for number, order in held.changed.items()}
    for changed in preview.changed:
        moved = moved or changed.number not in now or tuple(differences(*now[changed.number])) != changed.differences
    if moved:
        raise Refused("Some orders changed since the preview. Check it again before you import.")


def differences(before: Order, now: Order) -> Iterator[Difference]:
    """Return the fields that differ between two versions of an order; lines are compared in order."""
    yield from _in_record(before.address, now.address, frozenset({"country_typed"}))
    yield from _in_record(before, now, _NOT_COMPARED)
    for place in range(max(len(before.lines), len(now.lines))):
        old, new = (line_words(lines[place]) if place < len(lines) else "" for lines in (before.lines, now.lines))
        if old != new:
            yield Difference(f"line {place + 1}", old, new)
    for name, texts in (("charges", _charges), ("issues", _issues)):
        old, new = texts(before), texts(now)
        if old != new:
            yield Difference(name, old, new)


def _charges(order: Order) -> str:
    return "; ".join(f"{charge.name} {_text(charge.amount)}" for charge in order.charges)


def _issues(order: Order) -> str:
    return "; ".join(issue_name(issue.code) for issue in order.findings)


def _in_record(before: Order | Address, now: Order | Address, but: Collection[str]) -> Iterator[Difference]:
    for name in (field.name for field in fields(before) if field.name not in but):
        old, new = getattr(before, name), getattr(now, name)
        if old != new:
            yield Difference(name, _text(old), _text(new))


def _text(value: object) -> str:
    if isinstance(value, Money):
        return amount_words(value)
    return "" if value is None else str(value)


def line_words(line: OrderLine) -> str:
    """Return an order line as one text: `2 × Notebook, blue (NB-1) at $12.50`."""
    what = ", ".join(filter(None, (line.item, line.variant)))
    sku = f" ({line.sku})" if line.sku else ""
    return f"{line.quantity} × {what}{sku} at {_text(line.unit_price)}"
