"""What customs are told of one product, mended where a declaration shows it; and codes that may fit its words."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace

from desk.domain.order import OrderLine
from desk.domain.product import Product
from desk.session.pile.stored_cases import read_terms
from desk.session.rulebook import Rulebook
from desk.session.setup.change_shop import FieldFault, read_record
from desk.session.sitting import Sitting
from desk.store import shop as shelf

FIELDS = ("customs_words", "hs", "origin", "unit_weight", "weight_unit")
MOST_HINTS = 6


@dataclass(frozen=True, slots=True)
class HsHint:
    """A code that might fit, how sure its source is, and that source. A hint, not a ruling."""

    code: str
    heading: str
    confidence: str
    note: str
    source: str


def mend_product(sitting: Sitting, line: OrderLine, values: Mapping[str, str]) -> tuple[FieldFault, ...]:
    """Keep what was said of the product of an order line, for every declaration it stands in; one step.

    A product the shop does not know is added with the line's sku and name. `values` may hold any of FIELDS; an origin
    may be a country's English name. With a fault nothing is kept.
    """
    from desk.intake.shop.shop_values import product_values

    terms = read_terms(sitting)
    shop = terms.shop
    known = shop.product_for(line)
    if known is None:
        shop = replace(shop, products=(*shop.products, Product(line.sku, line.item)))
        known = shop.products[-1]
    said = {name: value.strip() for name, value in values.items() if name in FIELDS}
    if (origin := said.get("origin")) and (country := terms.rulebook.countries.find(origin)):
        said["origin"] = country
    place = shop.products.index(known)
    product, faults = read_record(shop, "products", place, {**product_values(known), **said})
    if product is None:
        return faults
    products = (*shop.products[:place], product, *shop.products[place + 1 :])
    with sitting.store.act(f"Customs words of {known.name or known.sku}") as tx:
        shelf.save(tx, replace(shop, products=products))
    sitting.announce(sitting.store.last_changes)
    return ()


def hs_hints(rulebook: Rulebook, text: str) -> tuple[HsHint, ...]:
    """Codes whose examples share words with the text, best first, each once."""
    found: dict[str, HsHint] = {}
    for row in rulebook.codes.suggest(text):
        found.setdefault(row.code, HsHint(row.code, row.heading, row.confidence, row.note, row.source))
        if len(found) == MOST_HINTS:
            break
    return tuple(found.values())
