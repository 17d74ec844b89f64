"""Goods: the lines of an order as customs needs them, with the order's discount divided among them."""

from __future__ import annotations

from collections import Counter
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from decimal import Decimal
from types import MappingProxyType

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
    learned_g: int | None = None  # the learned weight of the whole line in grams; used where none was typed

    @property
    def is_learned(self) -> bool:
        """Return True when the net weight comes from past weighings."""
        return self.unit_net is None and self.learned_g is not None

    @property
    def net(self) -> Weight | None:
        """Return the exact weight of the whole line; None when the unit weight is unknown."""
        if self.unit_net is not None:
            return self.unit_net * self.quantity
        return None if self.learned_g is None else Weight(Decimal(self.learned_g))


def goods_of(order: Order, shop: Shop, nets: Mapping[str, int] = MappingProxyType({})) -> tuple[Goods, ...]:
    """Return the goods of an order, in its order; their values add up to `order.declared_value` to the cent.

    `nets` are learned net weights in whole grams, by product, for all of it in the piece.
    """
    products = [shop.product_for(line) for line in order.lines]
    keys = [product.key if product else line.key for line, product in zip(order.lines, products, strict=True)]
    learned = _learned(keys, [line.quantity for line in order.lines], nets)
    rows = zip(order.lines, order.customs_values, products, learned, strict=True)
    return tuple(replace(_goods(line, value, product), learned_g=grams) for line, value, product, grams in rows)


def _learned(keys: Sequence[str], counts: Sequence[int], nets: Mapping[str, int]) -> list[int | None]:
    """Return each line's share of its product's learned weight, so that shares add up to it."""
    whole: Counter[str] = Counter()
    for key, count in zip(keys, counts, strict=True):
        whole[key] += count
    before: Counter[str] = Counter()
    shares: list[int | None] = []
    for key, count in zip(keys, counts, strict=True):
        if key not in nets or not whole[key]:
            shares.append(None)
            continue
        start, end = before[key], before[key] + count
        shares.append(nets[key] * end // whole[key] - nets[key] * start // whole[key])
        before[key] = end
    return shares


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
