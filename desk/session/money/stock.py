"""Stock of stamps, mailers, inserts and labels: purchases, what leaves, what is left, and what to buy."""

from __future__ import annotations

from collections import Counter, defaultdict
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from datetime import date, timedelta

from desk.costs.stock import SPOILED, Lot, StockFlow, Taken, costed, flow
from desk.costs.workbook import BookColumn, BookSheet
from desk.domain.clock import local_day, today
from desk.domain.faults import Refused
from desk.domain.money import Money
from desk.session.pile.batch import stamps_to_put_on
from desk.session.pile.pile import Pile
from desk.session.sitting import Sitting
from desk.session.verdict.payment import has_label
from desk.session.verdict.verdict import Verdict
from desk.session.words.figures import counted
from desk.session.words.stamp_names import name_of_stamp
from desk.store.tables import movements, settings
from desk.store.tables.movements import CountedKind, stamp_name
from desk.store.tables.orders import StoreView
from desk.store.transaction import Transaction

PURCHASES = "purchases"  # the setting they are saved under
INSERTS, LABELS = "Inserts", "Labels"
MONTH = timedelta(days=30)
BOUGHT = "bought"  # why a stock grew
MOST = 10**6  # pieces in one purchase
SHEET = (
    BookColumn("Item", "Stamps, mailers, inserts and labels with a purchase or a count."),
    BookColumn("On hand, January 1", "Pieces at the start of the year."),
    BookColumn("Bought or found", "Pieces bought, and pieces that a count found."),
    BookColumn("Used", "Pieces used on packages."),
    BookColumn("Spoiled or missing", "Pieces spoiled, and pieces that a count did not find."),
    BookColumn("On hand, December 31", "Opening and bought, less used and spoiled."),
    BookColumn("Cost of stock, January 1", "First bought, first used. Pieces found without a price cost 0."),
    BookColumn("Paid", "What this year's purchases cost."),
    BookColumn("Cost of used", "What the used pieces cost."),
    BookColumn("Cost of spoiled", "What the spoiled pieces cost."),
    BookColumn("Cost of stock, December 31", "Opening and paid, less used and spoiled."),
)


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


@dataclass(frozen=True, slots=True)
class StockItem:
    """What can be bought: its kind, its name among movements, and its words."""

    kind: CountedKind
    name: str
    words: str


@dataclass(frozen=True, slots=True)
class StockRow:
    """One item's stock: what came and left, what a month takes, and what the batch still needs."""

    item: StockItem
    lots: tuple[Lot, ...]
    taken: tuple[Taken, ...]
    month: int  # pieces used in the last 30 days
    needed: int  # by the batch

    def between(self, first: date, last: date) -> StockFlow:
        """Return what came and left on these days, both included."""
        return flow(self.lots, self.taken, first, last)

    def on(self, day: date) -> tuple[int, int]:
        """Return how many are on hand at the end of a day, and what they cost in minor units."""
        return self.between(date.min, day).closing

    @property
    def left(self) -> int:
        """Return how many are on hand now."""
        return self.on(date.max)[0]

    @property
    def runs_low(self) -> bool:
        """Return True when less is left than the batch and another month need (common practice, no source)."""
        return self.to_buy > 0

    @property
    def to_buy(self) -> int:
        """Return how many to buy for the batch and the next month."""
        return max(self.needed + self.month - self.left, 0)


def stock_items(pile: Pile) -> tuple[StockItem, ...]:
    """Return everything that can be bought: the shop's stamps and mailers, inserts and labels."""
    shop = pile.terms.shop
    stamps = [StockItem(CountedKind.STAMP, stamp_name(one), name_of_stamp(one.kind, one.value)) for one in shop.stamps]
    mailers = [StockItem(CountedKind.MAILER, one.name, one.name) for one in shop.mailers if not one.reused]
    others = [StockItem(CountedKind.LABEL, name, name) for name in (INSERTS, LABELS)]
    return (*stamps, *mailers, *others)


def buy(sitting: Sitting, item: StockItem, count: int, price: Money, day: date) -> None:
    """Enter a purchase. Refused for a count of 0 or less, and for a price below 0."""
    if not 0 < count <= MOST:
        raise Refused(f"The number bought must be from 1 to {MOST}.")
    if price.minor < 0:
        raise Refused("The price can't be below 0.")
    with sitting.store.act(f"Bought {counted(count, 'piece')}: {item.words}") as tx:
        before = settings.read(tx.conn, PURCHASES, Purchases()).all
        settings.write(tx, PURCHASES, Purchases((*before, Purchase(item.kind, item.name, day, count, price))))
        movements.move(tx, item.kind, {item.name: count}, BOUGHT)
    sitting.announce(sitting.store.last_changes)


def spoil(sitting: Sitting, item: StockItem, count: int) -> None:
    """Enter that pieces were spoiled. Refused for a count of 0 or less, and for more than there are."""
    with sitting.store.act(f"Spoiled {counted(count, 'piece')}: {item.words}") as tx:
        there = movements.on_hand(tx.conn, item.kind).get(item.name, 0)
        if not 0 < count <= there:
            raise Refused(f"There are {max(there, 0)} on hand, so {count} can't be spoiled.")
        movements.move(tx, item.kind, {item.name: -count}, SPOILED)
    sitting.announce(sitting.store.last_changes)


def count_stock(sitting: Sitting, item: StockItem, count: int) -> None:
    """Set what is on hand to a new count. Refused for a count below 0."""
    if not 0 <= count <= MOST:
        raise Refused(f"The number on hand must be from 0 to {MOST}.")
    with sitting.store.act(f"Counted {counted(count, 'piece')}: {item.words}") as tx:
        movements.recount(tx, item.kind, {item.name: count})
    sitting.announce(sitting.store.last_changes)


def read_stock(sitting: Sitting, pile: Pile) -> tuple[StockRow, ...]:
    """Return the stock of every item that was ever bought or counted."""
    now = today(sitting.clock)
    with sitting.store.reading() as conn:
        lots, taken = _moves(conn)
    needed = _needed(pile)
    rows = []
    for item in stock_items(pile):
        key = item.kind, item.name
        if lots[key] or taken[key]:
            month = sum(one.count for one in taken[key] if one.why != SPOILED and now - MONTH < one.day <= now)
            rows.append(StockRow(item, tuple(lots[key]), tuple(taken[key]), month, needed[key]))
    return tuple(rows)


def stock_sheet(rows: Iterable[StockRow], year: int) -> BookSheet:
    """Return a year's stock for the workbook, one item a row; counts first, then costs."""
    table = []
    for row in rows:
        year_of = row.between(date(year, 1, 1), date(year, 12, 31))
        sides = (year_of.opening, year_of.bought, year_of.used, year_of.spoiled, year_of.closing)
        costs = (Money(cost).amount for _, cost in sides)
        table.append((row.item.words, *(count for count, _ in sides), *costs))
    return BookSheet("Stock", SHEET, table)


def use_materials(tx: Transaction, verdicts: Iterable[tuple[int, Verdict]]) -> None:
    """Record what pieces use, of materials that were ever bought or counted."""
    known = {kind: movements.on_hand(tx.conn, kind) for kind in (CountedKind.MAILER, CountedKind.LABEL)}
    done = {piece for kind in known for piece in movements.used_by_piece(tx.conn, kind)}
    for number, verdict in verdicts:
        for kind, name in () if number in done else _materials(verdict):
            if name in known[kind]:
                movements.move(tx, kind, {name: -1}, "used", number)


def stamp_costs(conn: StoreView) -> dict[int, Money]:
    """Return what the stamps on each piece cost, first in, first out; pieces with a stamp of unknown cost are left out."""
    lots, taken = _moves(conn)
    costs: dict[int, Money] = {}
    unknown: set[int] = set()
    for key in taken:
        for use in costed(lots[key], taken[key]) if key[0] is CountedKind.STAMP else ():
            piece = use.taken.piece_id
            if piece is not None and use.cost is None:
                unknown.add(piece)
            elif piece is not None and use.cost is not None:
                costs[piece] = costs[piece] + use.cost if piece in costs else use.cost
    return {piece: cost for piece, cost in costs.items() if piece not in unknown}


def _materials(verdict: Verdict) -> Iterator[tuple[CountedKind, str]]:
    mailer = verdict.contents.mailer
    if mailer is not None and not mailer.reused:
        yield CountedKind.MAILER, mailer.name
    yield CountedKind.LABEL, INSERTS
    if has_label(verdict.payment):
        yield CountedKind.LABEL, LABELS


Key = tuple[CountedKind, str]


def _needed(pile: Pile) -> Counter[Key]:
    batch = pile.batch()
    waiting = [one for one in batch.verdicts if not one.case.handed_over and one.case.beside is None]
    needed: Counter[Key] = Counter(key for one in waiting for key in _materials(one))
    for (kind, value), number in stamps_to_put_on(batch.verdicts).items():
        needed[CountedKind.STAMP, _stamp_name(pile, kind.value, value)] += number
    return needed


def _stamp_name(pile: Pile, kind: str, value: Money | None) -> str:
    """Return the name among movements of a kind of stamp that the shop has; empty when it has none."""
    fitting = (one for one in pile.terms.shop.stamps if one.kind.value == kind and one.value == value)
    return next((stamp_name(one) for one in fitting), "")


def _moves(conn: StoreView) -> tuple[Mapping[Key, list[Lot]], Mapping[Key, list[Taken]]]:
    """Return purchases and uses by item. Movements that were undone cancel out."""
    lots: defaultdict[Key, list[Lot]] = defaultdict(list)
    taken: defaultdict[Key, list[Taken]] = defaultdict(list)
    for bought in settings.read(conn, PURCHASES, Purchases()).all:
        lots[bought.kind, bought.name].append(Lot(bought.day, bought.count, bought.price))
    sums: dict[tuple[CountedKind, str, int | None, str, date], int] = defaultdict(int)
    days: dict[int | None, date] = {}
    for move in movements.all_movements(conn):
        if move.why == BOUGHT:
            continue
        day = local_day(move.at)
        if move.piece_id is not None:
            sums[move.kind, move.name, move.piece_id, "used", days.setdefault(move.piece_id, day)] += move.change
        else:
            sums[move.kind, move.name, None, move.why, day] += move.change
    for (kind, name, piece, _, on), change in sums.items():
        if change > 0:
            lots[kind, name].append(Lot(on, change))
        elif change < 0:
            taken[kind, name].append(Taken(on, -change, "used" if piece is not None else SPOILED, piece))
    return lots, taken
