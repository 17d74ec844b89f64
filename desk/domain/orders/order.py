"""Order: what was bought, by whom, where to."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field, replace
from datetime import date
from functools import cached_property

from desk.domain.finding import Finding
from desk.domain.money import Money, shared_out, zero
from desk.domain.orders.customs_details import NOTHING_SAID, CustomsDetails
from desk.domain.places.address import Address


@dataclass(frozen=True, slots=True)
class OrderLine:
    """One line of an order. `unit_price` is what the buyer paid for one."""

    item: str
    quantity: int
    unit_price: Money
    sku: str = ""
    variant: str = ""

    @property
    def key(self) -> str:
        """Return the key of the goods of a line: the SKU, else the item."""
        return self.sku or self.item


@dataclass(frozen=True, slots=True)
class Charge:
    """An order line that is not goods, such as gift wrap or a tip: paid for, never weighed or declared."""

    name: str
    amount: Money


@dataclass(frozen=True)  # no slots: its values are cached
class Order:
    """An order; (source, number) is its natural key. `discount` applies to the whole order."""

    number: str
    address: Address
    lines: tuple[OrderLine, ...]
    currency: str = "USD"
    shipping_paid: Money = field(default_factory=zero)
    discount: Money = field(default_factory=zero)
    shipping_choice: str = ""
    status: str = ""
    buyer_note: str = ""
    placed: date | None = None
    source: str = ""
    findings: tuple[Finding, ...] = ()  # what the import corrected or could not read, such as postal-code-mended
    charges: tuple[Charge, ...] = ()
    customs: CustomsDetails = NOTHING_SAID

    @cached_property
    def goods_value(self) -> Money:
        """Return what the buyer paid for the goods: lines less the order's discount, at least 0."""
        total = sum((line.unit_price * line.quantity for line in self.lines), zero(self.currency)) - self.discount
        return max(total, zero(self.currency), key=lambda money: money.minor)

    @property
    def line_values(self) -> tuple[Money, ...]:
        """Return each line's value after its share of the discount; together exactly the goods' value."""
        return shared_out(self.goods_value, [line.unit_price * line.quantity for line in self.lines])

    @cached_property
    def customs_values(self) -> tuple[Money, ...]:
        """Return the declared value of each line: its customs value where one was entered, else the price paid.

        Lines without their own value share the rest of the order's customs value by price, or by number where they
        cost nothing.
        """
        own = dict(self.customs.unit_values)
        fixed = [own[line.key] * line.quantity if line.key in own else None for line in self.lines]
        rest = iter(self._shared_values([line for line in self.lines if line.key not in own], fixed))
        return tuple(value if value is not None else next(rest) for value in fixed)

    def _shared_values(self, lines: Sequence[OrderLine], fixed: Sequence[Money | None]) -> Sequence[Money]:
        if self.customs.value is None:
            return [paid for paid, value in zip(self.line_values, fixed, strict=True) if value is None]
        fixed_sum = sum((value for value in fixed if value is not None), zero(self.customs.value.currency))
        left = max(self.customs.value - fixed_sum, zero(fixed_sum.currency), key=lambda money: money.minor)
        prices = [line.unit_price * line.quantity for line in lines]
        return shared_out(left, prices if any(prices) else [Money(line.quantity, self.currency) for line in lines])

    @property
    def declared_value(self) -> Money:
        """Return what all goods are declared at: what was paid, unless other values were entered."""
        if self.customs.value is None and not self.customs.unit_values:
            return self.goods_value
        values = self.customs_values
        return sum(values, zero(values[0].currency if values else self.currency))

    def only(self, places: Sequence[int]) -> Order:
        """Return the order with the lines at these places alone; with an empty line worth nothing where none is left."""
        lines = tuple(self.lines[place] for place in places)
        return replace(self, lines=lines or (OrderLine("", 1, zero(self.currency)),))
