"""What came and left of stamps and materials, as lots and uses; and what the stamps on packages cost."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Collection, Iterable
from dataclasses import dataclass
from datetime import date, timedelta

from desk.costs.stock import SPOILED, USED, Lot, Taken, costed
from desk.domain.clock import local_day
from desk.domain.money import Money
from desk.store.tables import movements, settings
from desk.store.tables.movements import CountedKind
from desk.store.tables.orders import StoreView
from desk.store.transaction import Transaction

PURCHASES = "purchases"  # the setting they are saved under
BOUGHT = "bought"  # why a stock grew
MONTH, YEAR = timedelta(days=30), timedelta(days=365)
Key = tuple[CountedKind, str]
Moves = tuple[defaultdict[Key, list[Lot]], defaultdict[Key, list[Taken]]]


@dataclass(frozen=True, slots=True)
class Purchase:
    """Several of one kind bought on a day, at one price for all."""

    kind: CountedKind
    name: str
    day: date
    count: int
    price: Money


@dataclass(frozen=True, slots=True)
class Purchases:
    """All purchases, in the order entered."""

    all: tuple[Purchase, ...] = ()


def record_purchase(tx: Transaction, bought: Purchase) -> None:
    """Add a purchase, and its pieces to what is on hand."""
    before = settings.read(tx.conn, PURCHASES, Purchases()).all
    settings.write(tx, PURCHASES, Purchases((*before, bought)))
    movements.move(tx, bought.kind, {bought.name: bought.count}, BOUGHT)


def expected_use(taken: Iterable[Taken], now: date) -> int:
    """Return how many the next 30 days may take: the most of the last 30, a third of the last 90 (rounded up), and
    these 30 days a year ago, when orders came in waves (common practice, no source).
    """
    uses = [(one.day, one.count) for one in taken if one.why != SPOILED]
    spans = ((now - MONTH, now), (now - 3 * MONTH, now), (now - YEAR, now - YEAR + MONTH))
    last, three, year_ago = (sum(count for day, count in uses if first < day <= end) for first, end in spans)
    return max(last, -(-three // 3), year_ago)


def stamp_costs(conn: StoreView, going: Collection[int]) -> dict[int, Money]:
    """Return what the stamps on these pieces cost, first in, first out; those with a stamp of unknown cost are left out.

    These pieces are the last that were handed over: what left before them is one sum, so that a long history is quick.
    """
    used = movements.used_by_piece(conn, CountedKind.STAMP, sorted(going))
    lots, spoiled = _lots_and_spoiled(conn)
    before = movements.used_on_what_left(conn, CountedKind.STAMP)
    costs: dict[int, Money] = {}
    unknown: set[int] = set()
    for name in {name for counts in used.values() for name in counts}:
        mine = [Taken(date.max, counts[name], USED, piece) for piece, counts in used.items() if name in counts]
        gone = before.get(name, 0) - sum(one.count for one in mine)
        gone += sum(one.count for one in spoiled[CountedKind.STAMP, name])
        earlier = [Taken(date.min, gone)] if gone > 0 else []
        for use in costed(lots[CountedKind.STAMP, name], [*earlier, *mine]):
            piece = use.taken.piece_id
            if piece is None:
                continue
            if use.cost is None:
                unknown.add(piece)
            else:
                costs[piece] = costs[piece] + use.cost if piece in costs else use.cost
    return {piece: cost for piece, cost in costs.items() if piece not in unknown}


def _lots_and_spoiled(conn: StoreView) -> Moves:
    """Return purchases and counts, and what was spoiled or missing; not what was used on pieces."""
    lots: defaultdict[Key, list[Lot]] = defaultdict(list)
    spoiled: defaultdict[Key, list[Taken]] = defaultdict(list)
    for bought in settings.read(conn, PURCHASES, Purchases()).all:
        lots[bought.kind, bought.name].append(Lot(bought.day, bought.count, bought.price))
    sums: dict[tuple[CountedKind, str, str, date], int] = defaultdict(int)
    for move in movements.not_on_pieces(conn):
        if move.why != BOUGHT:
            sums[move.kind, move.name, move.why, local_day(move.at)] += move.change
    for (kind, name, _, on), change in sums.items():
        if change > 0:
            lots[kind, name].append(Lot(on, change))
        elif change < 0:
            spoiled[kind, name].append(Taken(on, -change, SPOILED))
    return lots, spoiled


def ever_had(conn: StoreView) -> frozenset[Key]:
    """Return everything that was bought or counted, also when none of it is left; not what was undone."""
    lots, _ = _lots_and_spoiled(conn)
    return frozenset(key for key, bought in lots.items() if bought)


def read_moves(conn: StoreView) -> Moves:
    """Return all purchases and uses by item. Movements that were undone cancel out."""
    lots, taken = _lots_and_spoiled(conn)
    for one in movements.on_pieces(conn):
        taken[one.kind, one.name].append(Taken(local_day(one.at), one.count, USED, one.piece_id))
    return lots, taken
