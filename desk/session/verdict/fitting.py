"""The default mailer of a piece: the one its product names, else the smallest its contents fit."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from decimal import Decimal

from desk.domain.length import Length
from desk.domain.orders.order import Order, OrderLine
from desk.domain.shop.mailer import Mailer, MailerKind
from desk.domain.shop.product import Product
from desk.domain.shop.shop import Shop


def usual_mailer(order: Order, shop: Shop) -> Mailer | None:
    """Return the mailer that the product names, for an order of one item; None for any other order."""
    if len(order.lines) != 1 or order.lines[0].quantity != 1:
        return None
    product = shop.product_for(order.lines[0])
    return shop.mailer(product.usual_mailer) if product is not None and product.usual_mailer else None


def smallest_that_fits(order: Order, shop: Shop) -> Mailer | None:
    """Return the smallest mailer by volume that the stacked contents fit; None when none does.

    A product without a thickness counts as thin; its face counts where length and width are known. Reused mailers,
    cards, and packaging limited to one service are never assumed.
    """
    products = [(shop.product_for(line), line.quantity) for line in order.lines]
    thick, faces = _thickness(products), list(_faces(products))
    fitting = [mailer for mailer in _ordinary(shop.mailers) if _fits(mailer, thick, faces)]
    return min(fitting, key=_volume, default=None)


def family_of(order: Order, shop: Shop) -> str:
    """Return the contents of an order by product names without variants: `2 x Card, Bookmark`."""
    named = sorted((_family(line, shop), line.quantity) for line in order.lines)
    return ", ".join(f"{quantity} x {name}" if quantity > 1 else name for name, quantity in named)


def _family(line: OrderLine, shop: Shop) -> str:
    """Return a product's name without the variant it ends with, if any."""
    product = shop.product_for(line)
    name, variant = (product.name if product and product.name else line.item), line.variant
    if variant and name.casefold().endswith(variant.casefold()):
        name = name[: -len(variant)].rstrip(" ,-–—:/(")
    return name or line.item


def _fits(mailer: Mailer, thick: Length, faces: Iterable[tuple[Length, Length]]) -> bool:
    if mailer.size is None:
        return False
    longest, middle, shortest = mailer.size.sides()
    return thick <= shortest and all(long <= longest and short <= middle for long, short in faces)


def _faces(products: Iterable[tuple[Product | None, int]]) -> Iterator[tuple[Length, Length]]:
    for product, _ in products:
        if product is not None and product.length is not None and product.width is not None:
            yield max(product.length, product.width), min(product.length, product.width)


def _ordinary(mailers: Iterable[Mailer]) -> Iterable[Mailer]:
    return (each for each in mailers if not each.reused and not each.only_service and each.kind is not MailerKind.CARD)


def _thickness(products: Iterable[tuple[Product | None, int]]) -> Length:
    whole = Length(Decimal(0))
    for product, quantity in products:
        if product is not None and product.thickness is not None:
            whole += product.thickness * quantity
    return whole


def _volume(mailer: Mailer) -> Decimal:
    return mailer.size.cubic_inches() if mailer.size else Decimal(0)
