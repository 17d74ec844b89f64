"""Translate pieces and readings for `desk.learning`: which products and mailer, how many grams."""

from __future__ import annotations

from desk.domain.orders.order import OrderLine
from desk.domain.shop.shop import Shop
from desk.domain.weight import GRAMS_IN, Shown, WeightUnit
from desk.learning.parcel import Parcel, ShownWeight
from desk.session.verdict.case import Case


def product_key(line: OrderLine, shop: Shop) -> str:
    """Return the key a product is learned under: its SKU, else its name; as the order writes it when unknown."""
    product = shop.product_for(line)
    if product is None:
        return line.sku or line.item
    return product.sku or product.name


def parcel_of(case: Case, shop: Shop) -> Parcel | None:
    """Return a piece's contents and mailer; None when unknown, as in an order that is not divided into its packages."""
    if not case.contents_known or not case.mailer_name:
        return None
    contents: dict[str, int] = {}
    for line in case.order.lines:
        if line.quantity > 0:
            name = product_key(line, shop)
            contents[name] = contents.get(name, 0) + line.quantity
    return Parcel(contents, case.mailer_name) if contents else None


def reading_of(shown: Shown) -> ShownWeight:
    """Return a scale reading in grams, with the digits the scale displayed."""
    plain = shown.unit is not WeightUnit.POUND_OUNCE
    digits = f"{shown.value:f}" if plain else ""
    return ShownWeight(float(shown.weight.grams), float(shown.step.grams), digits, float(GRAMS_IN[shown.unit]))


def typed_weights(shop: Shop) -> tuple[dict[str, float | None], dict[str, float | None]]:
    """Return all typed weights, of products and of mailers."""
    return typed_products(shop), typed_mailers(shop)


def typed_products(shop: Shop) -> dict[str, float | None]:
    """Return the typed unit weights in grams, by the key they are learned under."""
    return {
        product.sku or product.name: None if product.unit_weight is None else float(product.unit_weight.grams)
        for product in shop.products
    }


def typed_mailers(shop: Shop) -> dict[str, float | None]:
    """Return the typed empty weights in grams, by mailer."""
    return {mailer.name: None if mailer.tare is None else float(mailer.tare.grams) for mailer in shop.mailers}
