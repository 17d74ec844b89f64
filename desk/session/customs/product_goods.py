"""Correct the customs details of one product on its declaration, and suggest HS codes for its description."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace

from desk.customs.check_result import compact
from desk.customs.hs_words import search_words
from desk.domain.orders.order import OrderLine
from desk.domain.shop.product import Product
from desk.domain.shop.shop import Shop
from desk.session.pile.stored_cases import read_terms
from desk.session.rulebook import Rulebook
from desk.session.setup.change_shop import FieldFault, read_record
from desk.session.sitting import Sitting
from desk.store.tables import shop as shelf

FIELDS = ("customs_words", "hs", "origin", "unit_weight", "weight_unit")
MOST_CHOICES = 5
MOST_OWN, FEWEST_SHARED = 2, 2  # codes from own products, and how many words each must share with the text


@dataclass(frozen=True, slots=True)
class HsChoice:
    """An HS code to choose: what it covers, its heading, the words that matched, a note, and its source."""

    code: str
    words: str
    heading: str
    matched: tuple[str, ...]
    note: str
    source: str


def fix_product(sitting: Sitting, line: OrderLine, values: Mapping[str, str]) -> tuple[FieldFault, ...]:
    """Save the customs details of an order line's product, for every declaration it is in; one step.

    An unknown product is added with the line's SKU and name. `values` may hold any of FIELDS; an origin may be a
    country's English name. With a fault nothing is saved.
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
    with sitting.store.act(f"Customs details saved: {known.name or known.sku}") as tx:
        shelf.save(tx, replace(shop, products=products))
    sitting.announce(sitting.store.last_changes)
    return ()


def hs_choices(rulebook: Rulebook, text: str, shop: Shop | None = None, count: int = MOST_CHOICES) -> list[HsChoice]:
    """Return HS codes that may fit a description, best first, each once: from own products, then the tariff."""
    own = _from_products(rulebook, text, shop.products if shop else ())
    found = [
        HsChoice(one.code, one.words, one.heading, one.matched, one.note, one.source)
        for one in rulebook.codes.suggest(text, count)
    ]
    by_code = {choice.code: choice for choice in reversed([*own, *found])}
    ordered = dict.fromkeys(choice.code for choice in [*own, *found])
    return [by_code[code] for code in ordered][:count]


def _from_products(rulebook: Rulebook, text: str, products: Sequence[Product]) -> list[HsChoice]:
    """Return the codes of products that share at least two words with the text, those that share most first."""
    typed = search_words(text)
    found: dict[str, HsChoice] = {}
    for product in products:
        shared = [typed[word] for word in search_words(f"{product.name} {product.customs_words}") if word in typed]
        if len(shared) < FEWEST_SHARED or not rulebook.codes.looked_at(product.hs, product.hs_edition).ok:
            continue
        code = compact(product.hs)[:6]
        if code not in found or len(shared) > len(found[code].matched):
            source = f"your product \u201c{product.name or product.sku}\u201d"
            heading = rulebook.codes.headings.get(code[:4], "")
            found[code] = HsChoice(code, rulebook.codes.descriptions[code], heading, tuple(shared), "", source)
    return sorted(found.values(), key=lambda choice: -len(choice.matched))[:MOST_OWN]
