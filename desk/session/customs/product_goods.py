"""Correct the customs details of one product on its declaration, and suggest HS codes for its description."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace

from desk.customs.check_result import compact
from desk.customs.hs_words import search_words
from desk.domain.faults import Refused
from desk.domain.orders.order import OrderLine
from desk.domain.shop.product import Product
from desk.domain.shop.shop import Shop
from desk.session.pile.stored_cases import read_terms
from desk.session.rulebook import Rulebook
from desk.session.setup.change_shop import FieldFault, read_record
from desk.session.setup.shop_texts import product_texts
from desk.session.sitting import Sitting
from desk.session.words.sentences import document_of
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
    terms = read_terms(sitting)
    shop = terms.shop
    known = shop.product_for(line)
    if known is None:
        shop = replace(shop, products=(*shop.products, Product(line.sku, line.item)))
        known = shop.products[-1]
    typed = {name: value.strip() for name, value in values.items() if name in FIELDS}
    if (origin := typed.get("origin")) and (country := terms.rulebook.countries.find(origin)):
        typed["origin"] = country
    place = shop.products.index(known)
    product, faults = read_record(shop, "products", place, {**product_texts(known), **typed})
    if product is None:
        return faults
    products = (*shop.products[:place], product, *shop.products[place + 1 :])
    with sitting.store.act(f"Customs details saved: {known.name or known.sku}") as tx:
        shelf.save(tx, replace(shop, products=products))
    sitting.announce(sitting.store.last_changes)
    return ()


def same_for_all(sitting: Sitting, line: OrderLine, others: Sequence[OrderLine]) -> int:
    """Save a product's customs details for its other variants too, as one step; return for how many.

    Refused when the product is unknown, or has no other variant.
    """
    shop = read_terms(sitting).shop
    source = shop.product_for(line)
    if source is None:
        raise Refused(f"{line.item} isn't in your products yet. Fill in its fields first.")
    products = list(shop.products)
    changed = 0
    for other in {each.key: each for each in others if each.key != line.key}.values():
        known = shop.product_for(other)
        if known is source:
            continue
        fresh = _like(known or Product(other.sku, other.item), source, everything=True)
        if known is None:
            products.append(fresh)
        else:
            products[shop.products.index(known)] = fresh
        changed += fresh != known
    if not changed:
        raise Refused(f"No other variant of {line.item} differs from this one.")
    with sitting.store.act(f"Same customs details for all {line.item}") as tx:
        shelf.save(tx, replace(shop, products=tuple(products)))
    sitting.announce(sitting.store.last_changes)
    return changed


def variants_of(line: OrderLine, lines: Iterable[OrderLine]) -> tuple[OrderLine, ...]:
    """Return the lines of the same item under another SKU, each SKU once."""
    name = line.item.casefold()
    others = {one.key: one for one in lines if one.item.casefold() == name and one.key != line.key}
    return tuple(others.values())


def copy_from(sitting: Sitting, line: OrderLine, key: str) -> None:
    """Copy the customs description, HS code and origin of a product to that of a line, as one step.

    Its unit weight is copied only where the line's product has none. KeyError when there is no such product.
    """
    shop = read_terms(sitting).shop
    source = next((product for product in shop.products if product.key == key), None)
    if source is None:
        raise KeyError(key)
    known = shop.product_for(line)
    fresh = _like(known or Product(line.sku, line.item), source, everything=False)
    products = tuple(fresh if product is known else product for product in shop.products)
    with sitting.store.act(f"Customs details of {line.item} copied from {source.name or source.sku}") as tx:
        shelf.save(tx, replace(shop, products=products if known else (*products, fresh)))
    sitting.announce(sitting.store.last_changes)


def copy_choices(shop: Shop, line: OrderLine) -> tuple[tuple[str, str], ...]:
    """Return the products to copy from as pairs of key and words, those that share most words with the line first."""
    known = shop.product_for(line)
    typed = search_words(f"{line.item} {known.customs_words if known else ''}")
    complete = [product for product in shop.products if product is not known and product.hs and product.customs_words]

    def shared(product: Product) -> int:
        return sum(word in typed for word in search_words(f"{product.name} {product.customs_words}"))

    ranked = sorted(complete, key=lambda product: -shared(product))
    return tuple((product.key, f"{product.name or product.sku}: {product.hs}, {product.origin}") for product in ranked)


def _like(product: Product, source: Product, *, everything: bool) -> Product:
    weight = source.unit_weight if everything or product.unit_weight is None else product.unit_weight
    return replace(
        product,
        customs_words=source.customs_words or source.name,
        hs=source.hs,
        hs_edition=source.hs_edition,
        origin=source.origin,
        unit_weight=weight,
    )


def hs_choices(rulebook: Rulebook, text: str, shop: Shop | None = None, count: int = MOST_CHOICES) -> list[HsChoice]:
    """Return HS codes that may fit a description, best first, each once: from own products, then the tariff."""
    own = _from_products(rulebook, text, shop.products if shop else ())
    suggested = [
        HsChoice(one.code, one.words, one.heading, one.matched, one.note, document_of(one.source))
        for one in rulebook.codes.suggest(text, count)
    ]
    by_code = {choice.code: choice for choice in reversed([*own, *suggested])}
    ordered = dict.fromkeys(choice.code for choice in [*own, *suggested])
    return [by_code[code] for code in ordered][:count]


def _from_products(rulebook: Rulebook, text: str, products: Sequence[Product]) -> list[HsChoice]:
    """Return the codes of products that share at least two words with the text, those that share most first."""
    typed = search_words(text)
    choices: dict[str, HsChoice] = {}
    for product in products:
        shared = [typed[word] for word in search_words(f"{product.name} {product.customs_words}") if word in typed]
        if len(shared) < FEWEST_SHARED or not rulebook.codes.looked_at(product.hs, product.hs_edition).ok:
            continue
        code = compact(product.hs)[:6]
        if code not in choices or len(shared) > len(choices[code].matched):
            source = f"your product \u201c{product.name or product.sku}\u201d"
            heading = rulebook.codes.headings.get(code[:4], "")
            choices[code] = HsChoice(code, rulebook.codes.descriptions[code], heading, tuple(shared), "", source)
    return sorted(choices.values(), key=lambda choice: -len(choice.matched))[:MOST_OWN]
