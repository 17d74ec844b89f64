"""The default mailer of a piece: the one its product names, else the smallest its contents fit."""

from __future__ import annotations

from collections.abc import Iterable
from decimal import Decimal

from desk.domain.finding import Code, Finding, finding
from desk.domain.length import Length, Size
from desk.domain.orders.order import Order, OrderLine
from desk.domain.shop.mailer import Mailer, MailerKind
from desk.domain.shop.product import Product
from desk.domain.shop.shop import Shop

NOTHING = Length(Decimal(0))


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
    thick = _thickness(products)
    fitting = [mailer for mailer in _ordinary(shop.mailers) if _fits(mailer, thick, products)]
    return min(fitting, key=_volume, default=None)


def guessed_mailer(order: Order, shop: Shop) -> str:
    """Return the name of the mailer a product names, else of the smallest that fits; empty for none."""
    guess = usual_mailer(order, shop) or smallest_that_fits(order, shop)
    return guess.name if guess else ""


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


def too_small_for(size: Size | None, kind: MailerKind | None, products: Iterable[Product]) -> Finding | None:
    """Return an issue when a product does not fit an outside of that size: a wrong mailer or size. None when all fit."""
    if size is None:
        return None
    known = list(products)
    thick = [product for product in known if product.thickness is not None and product.thickness > size.sides()[2]]
    for product in sorted(thick, key=lambda each: each.thickness or NOTHING, reverse=True):
        return _too_small(product, "thickness", [product.thickness or NOTHING], [size.sides()[2]])
    for product in known:
        if not face_fits(product, size, kind):
            return _too_small(product, "face", _face(product), size.sides()[:2])
    return None


def face_fits(product: Product, size: Size, kind: MailerKind | None) -> bool:
    """Return True when a product's length and width fit an outside of that size, or are unknown.

    A tube holds what is rolled, so that one side has to fit its length. A box holds a product whichever way it is put.
    """
    face = _face(product)
    if not face:
        return True
    if kind is MailerKind.TUBE:
        return face[1] <= size.sides()[0]
    if kind is MailerKind.BOX and product.thickness is not None:
        sides = sorted((*face, product.thickness), reverse=True)
        return all(own <= outer for own, outer in zip(sides, size.sides(), strict=True))
    longest, middle, _ = size.sides()
    return face[0] <= longest and face[1] <= middle


def _too_small(product: Product, measure: str, contents: Iterable[Length], outside: Iterable[Length]) -> Finding:
    facts = {"measure": measure, "contents_in": _in_inches(contents), "outside_in": _in_inches(outside)}
    return finding(Code.MAILER_TOO_SMALL, "", None, product=product.name or product.sku, **facts)


def _in_inches(lengths: Iterable[Length]) -> str:
    return " × ".join(f"{length.inches():.2f}" for length in lengths)


def _face(product: Product) -> list[Length]:
    """Return the longer and the shorter side of a product; empty when one is not known."""
    if product.length is None or product.width is None:
        return []
    return sorted((product.length, product.width), reverse=True)


def _fits(mailer: Mailer, thick: Length, products: Iterable[tuple[Product | None, int]]) -> bool:
    if mailer.size is None:
        return False
    size, kind = mailer.size, mailer.kind
    return thick <= size.sides()[2] and all(face_fits(product, size, kind) for product, _ in products if product)


def _ordinary(mailers: Iterable[Mailer]) -> Iterable[Mailer]:
    return (each for each in mailers if not each.reused and not each.only_service and each.kind is not MailerKind.CARD)


def _thickness(products: Iterable[tuple[Product | None, int]]) -> Length:
    whole = NOTHING
    for product, quantity in products:
        if product is not None and product.thickness is not None:
            whole += product.thickness * quantity
    return whole


def _volume(mailer: Mailer) -> Decimal:
    return mailer.size.cubic_inches() if mailer.size else Decimal(0)
