"""Goods: the lines of an order as customs wants them, with the order's discount shared out."""

from __future__ import annotations

from dataclasses import dataclass

from desk.domain.money import Money
from desk.domain.orders.order import Order, OrderLine
from desk.domain.shop.product import Product
from desk.domain.shop.shop import Shop
from desk.domain.weight import Weight


@dataclass(frozen=True, slots=True, kw_only=True)
class Goods:
    """One line of goods. `value` is the whole line's after its share of the discount; `unit_net` weighs one of them.

    `known` is false when the shop has no such product: then words are the order's own and the rest is empty.
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
        """What the whole line weighs, exactly; None when the unit weight is unknown."""
        return None if self.unit_net is None else self.unit_net * self.quantity


def goods_of(order: Order, shop: Shop) -> tuple[Goods, ...]:
    """The goods of an order, in its order; their values add up to `order.declared_value` to the cent."""
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
