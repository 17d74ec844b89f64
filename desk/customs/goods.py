"""Goods: the lines of an order as customs needs them, with the order's discount divided among them."""

from __future__ import annotations

from dataclasses import dataclass

from desk.domain.money import Money
from desk.domain.orders.order import Order, OrderLine
from desk.domain.shop.product import Product
from desk.domain.shop.shop import Shop
from desk.domain.weight import Weight


@dataclass(frozen=True, slots=True, kw_only=True)
class Goods:
    """One line of goods. `value` is for the whole line after its discount; `unit_net` is the weight of one.

    `known` is false when the shop has no such product: then the words are the order's own and the rest is empty.
    """

    item: str
    words: str
    quantity: int
    value: Money
    unit_net: Weight | None = None
    hs: str = ""
    hs_edition: str = ""
    origin: str = ""
    document: bool = False
    known: bool = True

    @property
    def net(self) -> Weight | None:
        """Return the exact weight of the whole line; None when the unit weight is unknown."""
        return None if self.unit_net is None else self.unit_net * self.quantity


def goods_of(order: Order, shop: Shop) -> tuple[Goods, ...]:
    """Return an order's goods, line by line; their values add up to `order.declared_value` exactly."""
    values = order.customs_values
    return tuple(_goods(line, value, shop.product_for(line)) for line, value in zip(order.lines, values, strict=True))


def _goods(line: OrderLine, value: Money, product: Product | None) -> Goods:
    if product is None:
        return Goods(item=line.item, words=line.item, quantity=line.quantity, value=value, known=False)
    return Goods(
        item=line.item,
        words=product.customs_words or product.name,
        quantity=line.quantity,
        value=value,
        unit_net=product.unit_weight,
        hs=product.hs,
        hs_edition=product.hs_edition,
        origin=product.origin,
        document=product.document,
    )
