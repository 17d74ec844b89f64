"""Order: what was bought, by whom, where to."""

from __future__ import annotations

from dataclasses import dataclass, field
from datetime import date

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


@dataclass(frozen=True, slots=True)
class Charge:
    """An order line that is not goods, such as gift wrap or a tip: paid for, never weighed or declared."""

    name: str
    amount: Money


@dataclass(frozen=True, slots=True)
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

    @property
    def goods_value(self) -> Money:
        """Return what the buyer paid for the goods: lines less the order's discount, at least 0."""
        total = sum((line.unit_price * line.quantity for line in self.lines), zero(self.currency)) - self.discount
        return max(total, zero(self.currency), key=lambda money: money.minor)

    @property
    def line_values(self) -> tuple[Money, ...]:
        """Return each line's value after its share of the discount; together exactly the goods' value."""
        return shared_out(self.goods_value, [line.unit_price * line.quantity for line in self.lines])

    @property
    def customs_values(self) -> tuple[Money, ...]:
        """Return each line's declared value: from the customs value if given, else what was paid.

        Free goods divide a customs value by quantity.
        """
        if self.customs.value is None:
            return self.line_values
        prices = [line.unit_price * line.quantity for line in self.lines]
        weights = prices if any(prices) else [Money(line.quantity, self.currency) for line in self.lines]
        return shared_out(self.customs.value, weights)

    @property
    def declared_value(self) -> Money:
        """Return the declared value of all goods."""
        return self.goods_value if self.customs.value is None else self.customs.value
