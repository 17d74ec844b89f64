"""What orders would cost, from the catalog and a spread of zones: one of each product, mailed across the country.

Used before the shop has orders of its own. How the places are spread is common practice, no source.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator
from dataclasses import dataclass
from itertools import chain

from desk.domain.money import Money, zero
from desk.domain.orders.order import Order, OrderLine
from desk.domain.orders.piece import PieceKey
from desk.domain.places.address import Address
from desk.domain.shop.product import Product
from desk.session.pile.forecast import foreseen, usual_mailers
from desk.session.pile.pile import Pile
from desk.session.verdict.case import Case
from desk.session.verdict.verdict import Terms, Verdict

COUNTRIES = ("CA", "GB", "DE", "FR", "AU", "JP")  # where small goods go most from here; common practice, no source
MOST_PRODUCTS = 40
DRAWS = 10  # made orders of each product at home, shared among the zones by how many ZIP prefixes they have
PREFIXES = 1000


@dataclass(frozen=True, slots=True)
class CatalogCost:
    """What one of a product costs to send to one place: postage and materials."""

    product: str
    service: str
    zone: str
    country: str
    cost: Money


def catalog_costs(pile: Pile, *, abroad: bool) -> list[CatalogCost]:
    """Return the cost of one of each product with a weight, to a spread of zones at home or to some countries.

    Products without a mailer that fits, and places no service goes to, are left out.
    """
    before = (one.case for one in pile.latest)
    terms, usual = pile.terms, usual_mailers(chain(before, (verdict.case for verdict in pile.verdicts.values())))
    places = [Address("", "", "", "", "", "", "", code) for code in COUNTRIES] if abroad else list(_spread(terms))
    goods = [one for one in terms.shop.products if one.unit_weight is not None and not one.no_goods]
    costs = []
    for product in goods[:MOST_PRODUCTS]:
        known: dict[Address, CatalogCost | None] = {}
        for place in places:
            if place not in known:
                case = Case(key=PieceKey("catalog"), order=_order(product, place, terms))
                known[place] = _cost(product, place, foreseen(case, terms, usual))
            if (cost := known[place]) is not None:
                costs.append(cost)
    return costs


def _spread(terms: Terms) -> Iterator[Address]:
    """Return addresses at home, as many for each zone as its share of all ZIP prefixes, and at least one."""
    origin, zones = terms.shop.sender.postal_code, terms.rulebook.zones
    prefixes: dict[str, list[str]] = {}
    for number in range(PREFIXES):
        prefix = f"{number:03}"
        answer = zones.find(origin, prefix)
        if answer.zone and not answer.findings:
            prefixes.setdefault(answer.zone, []).append(prefix)
    counts = Counter({zone: len(some) for zone, some in prefixes.items()})
    for zone, some in sorted(prefixes.items()):
        place = Address("", "", "", "", "", "", f"{some[len(some) // 2]}01", "US")
        for _ in range(max(round(DRAWS * counts[zone] / counts.total()), 1)):
            yield place


def _order(product: Product, place: Address, terms: Terms) -> Order:
    line = OrderLine(product.name, 1, zero(terms.shop.policy.currency), product.sku)
    return Order("catalog", place, (line,), currency=terms.shop.policy.currency)


def _cost(product: Product, place: Address, verdict: Verdict | None) -> CatalogCost | None:
    if verdict is None or verdict.offer is None or verdict.money is None:
        return None
    cost = verdict.money.postage + verdict.money.materials
    return CatalogCost(product.key, verdict.offer.service, verdict.offer.key, place.country, cost)
