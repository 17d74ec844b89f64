"""Stock of stamps, mailers, inserts and labels: purchases, what leaves, what is left, and what to buy."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace
from datetime import date
from decimal import Decimal
from itertools import chain

from desk.costs.stock import SPOILED, Lot, StockFlow, Taken, by_currency, flow
from desk.costs.workbook import BookColumn, BookSheet
from desk.domain.clock import today
from desk.domain.faults import Refused
from desk.domain.money import Money
from desk.session.money.stock_moves import Key, Purchase, ever_had, expected_use, read_moves, record_purchase
from desk.session.pile.batch import stamps_to_put_on
from desk.session.pile.pile import Pile
from desk.session.sitting import Sitting
from desk.session.verdict.payment import has_label
from desk.session.verdict.verdict import Verdict
from desk.session.words.figures import counted
from desk.session.words.stamp_names import name_of_stamp
from desk.store.tables import movements
from desk.store.tables.movements import CountedKind, stamp_name
from desk.store.transaction import Transaction

INSERTS, LABELS = "Inserts", "Labels"
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
    BookColumn("Currency", "Of the costs, with a row for each; empty where nothing was bought at a known price."),
)


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
    month: int  # pieces expected to be used in the next 30 days
    needed: int  # by the batch

    def between(self, first: date, last: date) -> StockFlow:
        """Return what came and left on these days, both included."""
        return flow(self.lots, self.taken, first, last)

    def on(self, day: date) -> tuple[int, int]:
        """Return how many are on hand at the end of a day, and what they cost in minor units."""
        return self.between(date.min, day).closing

    def in_each_currency(self) -> list[StockRow]:
        """Return the row once for each currency of the purchases, with what left of these; costs don't mix."""
        return [replace(self, lots=tuple(lots), taken=tuple(gone)) for lots, gone in by_currency(self.lots, self.taken)]

    @property
    def left(self) -> int:
        """Return how many are on hand now."""
        return self.on(date.max)[0]

    @property
    def currency(self) -> str:
        """Return the currency of the first purchase; empty without one at a known price."""
        return next((lot.price.currency for lot in self.lots if lot.price is not None), "")

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
        record_purchase(tx, Purchase(item.kind, item.name, day, count, price))
    sitting.announce(sitting.store.last_changes)


def spoil(sitting: Sitting, item: StockItem, count: int) -> None:
    """Enter that pieces were spoiled. Refused for a count of 0 or less, and for more than there are."""
    with sitting.store.act(f"Spoiled {counted(count, 'piece')}: {item.words}") as tx:
        there = movements.on_hand(tx.conn, item.kind).get(item.name, 0)
        if not 0 < count <= there:
            raise Refused(f"There are {max(there, 0)} on hand, so {count} can't be spoiled.")
        movements.move(tx, item.kind, {item.name: -count}, SPOILED)
    sitting.announce(sitting.store.last_changes)


def count_stock(sitting: Sitting, item: StockItem, count: int, price: Money | None = None) -> None:
    """Set what is on hand to a new count. Refused for a count or a price below 0, and for a price that prices nothing.

    With a price for all, pieces found beyond what was on hand cost their share of it, like a purchase.
    """
    if not 0 <= count <= MOST:
        raise Refused(f"The number on hand must be from 0 to {MOST}.")
    if price is not None and price.minor < 0:
        raise Refused("The price can't be below 0.")
    with sitting.store.act(f"Counted {counted(count, 'piece')}: {item.words}") as tx:
        there = max(movements.on_hand(tx.conn, item.kind).get(item.name, 0), 0)
        more = max(count - there, 0) if price is not None else 0
        if price and not more:
            raise Refused(f"The count is not above the {there} on hand, so the price isn't used. Leave it empty.")
        movements.recount(tx, item.kind, {item.name: count - more})
        if price is not None and more:
            cost = Money(price.minor * more // count, price.currency)
            record_purchase(tx, Purchase(item.kind, item.name, today(sitting.clock), more, cost))
    sitting.announce(sitting.store.last_changes)


def read_stock(sitting: Sitting, pile: Pile) -> tuple[StockRow, ...]:
    """Return the stock of every item that was ever bought or counted."""
    now = today(sitting.clock)
    with sitting.store.reading() as conn:
        lots, taken = read_moves(conn)
    needed = _needed(pile)
    rows = []
    for item in stock_items(pile):
        key = item.kind, item.name
        if lots[key] or taken[key]:
            month = expected_use(taken[key], now)
            rows.append(StockRow(item, tuple(lots[key]), tuple(taken[key]), month, needed[key]))
    return tuple(rows)


def stock_sheet(rows: Iterable[StockRow], year: int) -> BookSheet:
    """Return a year's stock for the workbook, one item and currency a row; counts first, then costs."""
    table = []
    for row in chain.from_iterable(row.in_each_currency() for row in rows):
        year_of = row.between(date(year, 1, 1), date(year, 12, 31))
        sides = (year_of.opening, year_of.bought, year_of.used, year_of.spoiled, year_of.closing)
        costs = (Money(cost, row.currency).amount if row.currency else Decimal(0) for _, cost in sides)
        table.append((row.item.words, *(count for count, _ in sides), *costs, row.currency))
    return BookSheet("Stock", SHEET, table)


def use_materials(tx: Transaction, verdicts: Iterable[tuple[int, Verdict]]) -> None:
    """Record what pieces use, of materials that were ever bought or counted."""
    known, going = ever_had(tx.conn), dict(verdicts)
    kinds = CountedKind.MAILER, CountedKind.LABEL
    done = {piece for kind in kinds for piece in movements.used_by_piece(tx.conn, kind, going)}
    for number, verdict in going.items():
        for kind, name in () if number in done else materials_of(verdict):
            if (kind, name) in known:
                movements.move(tx, kind, {name: -1}, "used", number)


def materials_of(verdict: Verdict) -> Iterator[Key]:
    """Return what a piece uses besides stamps: its mailer, an insert, and a label if it has one."""
    mailer = verdict.contents.mailer
    if mailer is not None and not mailer.reused:
        yield CountedKind.MAILER, mailer.name
    yield CountedKind.LABEL, INSERTS
    if has_label(verdict.payment):
        yield CountedKind.LABEL, LABELS


def _needed(pile: Pile) -> Counter[Key]:
    batch = pile.batch()
    waiting = [one for one in batch.verdicts if not one.case.handed_over and one.case.beside is None]
    needed: Counter[Key] = Counter(key for one in waiting for key in materials_of(one))
    for (kind, value), number in stamps_to_put_on(batch.verdicts).items():
        needed[CountedKind.STAMP, _stamp_name(pile, kind.value, value)] += number
    return needed


def _stamp_name(pile: Pile, kind: str, value: Money | None) -> str:
    """Return the name among movements of a kind of stamp that the shop has; empty when it has none."""
    fitting = (one for one in pile.terms.shop.stamps if one.kind.value == kind and one.value == value)
    return next((stamp_name(one) for one in fitting), "")
