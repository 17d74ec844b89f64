"""What to charge for shipping: advice by destination group, from the shop's own ledger or from its catalog."""

from __future__ import annotations

from collections import Counter, defaultdict
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass

from desk.costs.charge_advice import FEWEST_ORDERS, ChargeAdvice, ChargeOutcome, advice, curve
from desk.costs.charge_table import FlatOrTable, flat_or_table
from desk.domain.ledger import REPLACED, Entry, LedgerRow
from desk.domain.money import Money
from desk.domain.places.country import is_abroad
from desk.session.money.catalog_costs import catalog_costs
from desk.session.pile.earlier import LATEST, ids_weighed_last
from desk.session.pile.pile import Pile
from desk.session.sitting import Sitting
from desk.session.words.services import service_words
from desk.store.tables import orders

__all__ = [
    "ChargeAdvice",
    "ChargeOutcome",
    "FlatOrTable",
    "GroupAdvice",
    "ShippingCost",
    "advise",
    "charging",
    "curve",
    "free_shipping",
    "items_of_orders",
    "overcharged",
    "postage_now",
    "shipping_costs",
]

HOME, ABROAD = "United States", "Other countries"
NEAR, FAR = 4, 6  # the last zones of the first two rows of a table; common practice, no source

OrderKey = tuple[str, str, str]  # order, destination group, currency
MOST_READ = 2000  # orders whose items are counted


@dataclass(frozen=True, slots=True)
class ShippingCost:
    """What one order cost to send, what its buyer paid for shipping less refunds, and its kind in a table.

    `is_repriced`: its postage is by the lists in force now.
    """

    order: str
    group: str
    cost: Money
    paid: Money
    kind: str = ""
    is_repriced: bool = False


@dataclass(frozen=True, slots=True)
class GroupAdvice:
    """The advice for a destination group. `orders` are the shop's own, `repriced` of them by the lists in force.

    `products` is None unless costs are estimated from that many products of the catalog.
    """

    advice: ChargeAdvice
    orders: int
    ways: FlatOrTable
    products: int | None = None
    repriced: int = 0


@dataclass(frozen=True, slots=True)
class FreeShipping:
    """What to add to an order, and to an item, so that shipping is free and the same money comes in."""

    per_order: Money
    per_item: Money | None


def shipping_costs(rows: Iterable[LedgerRow], now: Mapping[int, Money] | None = None) -> list[ShippingCost]:
    """Return the cost of every order: postage and materials, without what buyers paid. Currencies stay apart.

    A refund to the buyer counts as less paid. `now` is what the postage of pieces is by the lists in force: their cost
    moves by as much as their estimate did. Orders whose hand-over was undone are left out.
    """
    spent: dict[OrderKey, int] = defaultdict(int)
    paid: dict[OrderKey, int] = defaultdict(int)
    estimated: dict[OrderKey, Counter[int]] = defaultdict(Counter)
    kinds: dict[str, str] = {}
    for row in rows:
        key = row.order, ABROAD if is_abroad(row.country) else HOME, row.amount.currency
        kinds.setdefault(row.order, kind_of_package(row.service, row.zone, row.country))
        if row.entry in (Entry.SHIPPING_PAID, Entry.BUYER_REFUND):
            paid[key] += row.amount.minor
        elif row.entry is not Entry.CLAIM_PAID:
            spent[key] -= row.amount.minor
        if row.entry is Entry.POSTAGE_ESTIMATED and row.why != REPLACED:
            estimated[key][row.piece_id] -= row.amount.minor
    moved = {key: _moved(pieces, key[2], now or {}) for key, pieces in estimated.items()}
    return [
        ShippingCost(
            order=key[0],
            group=key[1],
            cost=Money(cost + sum(moved.get(key, ())), key[2]),
            paid=Money(paid[key], key[2]),
            kind=kinds[key[0]],
            is_repriced=bool(moved.get(key)),
        )
        for key, cost in spent.items()
        if cost or paid[key]
    ]


def _moved(estimated: Mapping[int, int], currency: str, now: Mapping[int, Money]) -> list[int]:
    """Return by how much the postage of an order's pieces moved since their estimates, which are positive."""
    held = [(now[piece], minor) for piece, minor in estimated.items() if piece in now and minor > 0]
    return [postage.minor - minor for postage, minor in held if postage.currency == currency]


def postage_now(pile: Pile) -> dict[int, Money]:
    """Return the postage of the pieces weighed last that left and are in the pile, by the lists in force."""
    latest = ((number, pile.verdicts.get(number)) for number in ids_weighed_last(pile.sitting, LATEST))
    left = ((number, one.money) for number, one in latest if one and one.case.handed_over and one.offer)
    currency = pile.terms.shop.policy.currency
    return {number: money.postage for number, money in left if money and money.postage.currency == currency}


def kind_of_package(service: str, zone: str, country: str) -> str:
    """Return the row of a table of charges that a package belongs to: by zone or price group, else by service."""
    if not zone.isdigit():
        return service_words(service)
    if is_abroad(country):
        return f"price group {zone}"
    near, far = f"zones 1 to {NEAR}", f"zones {NEAR + 1} and {FAR}"
    return near if int(zone) <= NEAR else far if int(zone) <= FAR else f"zones {FAR + 1} to 9"


def charging(costs: Iterable[ShippingCost], currency: str) -> list[GroupAdvice]:
    """Return the advice for home and abroad, in one currency; groups without orders are left out."""
    groups: dict[str, list[ShippingCost]] = defaultdict(list)
    for one in costs:
        if one.cost.currency == currency:
            groups[one.group].append(one)
    return [_from_orders(group, groups[group]) for group in (HOME, ABROAD) if groups[group]]


def _from_orders(group: str, costs: Sequence[ShippingCost]) -> GroupAdvice:
    ways = flat_or_table((one.kind, one.cost) for one in costs)
    repriced = sum(one.is_repriced for one in costs)
    return GroupAdvice(advice(group, (one.cost for one in costs)), len(costs), ways, repriced=repriced)


def advise(pile: Pile, costs: Iterable[ShippingCost]) -> list[GroupAdvice]:
    """Return the advice for home and abroad: from own orders, or from the catalog for a group with too few of them.

    Without products that have a weight, few orders are all there is.
    """
    own = {one.advice.group: one for one in charging(costs, pile.terms.shop.policy.currency)}
    advice = []
    for group in (HOME, ABROAD):
        mine = own.get(group)
        if mine is not None and mine.orders >= FEWEST_ORDERS:
            advice.append(mine)
        elif listed := _from_catalog(pile, group, mine.orders if mine else 0):
            advice.append(listed)
        elif mine is not None:
            advice.append(mine)
    return advice


def _from_catalog(pile: Pile, group: str, orders: int) -> GroupAdvice | None:
    costs = catalog_costs(pile, abroad=group == ABROAD)
    if not costs:
        return None
    kinds = [(kind_of_package(one.service, one.zone, one.country), one.cost) for one in costs]
    products = len({one.product for one in costs})
    return GroupAdvice(advice(group, (cost for _, cost in kinds)), orders, flat_or_table(kinds), products)


def free_shipping(
    costs: Iterable[ShippingCost], group: str, items: Mapping[str, int], currency: str
) -> FreeShipping | None:
    """Return what to add to prices in a group to ship free for the same money, rounded up; None without orders.

    `items` is how many items an order has. Orders in another currency don't count. Orders without a number of items
    count for the sum an order gets only.
    """
    some = [one for one in costs if one.group == group and one.paid.currency == currency]
    if not some:
        return None
    known = [one for one in some if items.get(one.order)]
    count = sum(items[one.order] for one in known)
    per_item = _mean(sum(one.paid.minor for one in known), count, currency) if count else None
    return FreeShipping(_mean(sum(one.paid.minor for one in some), len(some), currency), per_item)


def _mean(minor: int, count: int, currency: str) -> Money:
    return Money(-(-minor // count), currency)


def items_of_orders(sitting: Sitting, numbers: Iterable[str]) -> dict[str, int]:
    """Return how many items each of these orders has; of many orders, only the last ones are read."""
    with sitting.store.reading() as conn:
        ids = orders.ids_of(conn, list(numbers)[-MOST_READ:])
        stored = orders.some_orders(conn, ids.values())
    return {
        number: sum(line.quantity for line in stored[order_id].order.lines)
        for number, order_id in ids.items()
        if order_id in stored
    }


def overcharged(costs: Iterable[ShippingCost], more_than: Money) -> list[ShippingCost]:
    """Return the orders whose buyers paid more than this above the cost, the largest first."""
    orders_over = [one for one in costs if one.paid.currency == more_than.currency and more_than < one.paid - one.cost]
    return sorted(orders_over, key=lambda one: (-(one.paid - one.cost).minor, one.order))
