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
    """One line of an order. `unit_price` is what one of them cost the buyer."""

    item: str
    quantity: int
    unit_price: Money
    sku: str = ""
    variant: str = ""


@dataclass(frozen=True, slots=True)
class Charge:
    """A line of an order that is no goods, such as gift wrap or a tip: paid for, never weighed or declared."""

    name: str
    amount: Money


@dataclass(frozen=True, slots=True)
class Order:
    """An order; (source, number) is its natural key. `discount` is taken off the whole order."""

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
    findings: tuple[Finding, ...] = ()  # what the import corrected or could not read, e.g. postal-code-mended
    charges: tuple[Charge, ...] = ()
    customs: CustomsDetails = NOTHING_SAID

    @property
    def goods_value(self) -> Money:
        """What the goods cost the buyer: lines less the order's discount, never below nothing."""
        total = sum((line.unit_price * line.quantity for line in self.lines), zero(self.currency)) - self.discount
        return max(total, zero(self.currency), key=lambda money: money.minor)

    @property
    def line_values(self) -> tuple[Money, ...]:
        """What each line is worth after its share of the discount; together the goods' value, to the cent."""
        return shared_out(self.goods_value, [line.unit_price * line.quantity for line in self.lines])

    @property
    def customs_values(self) -> tuple[Money, ...]:
        """What each line is declared at: the customs value where one was said, else what was paid.

        Goods that cost nothing share a customs value by their number.
        """
        if self.customs.value is None:
            return self.line_values
        prices = [line.unit_price * line.quantity for line in self.lines]
        weights = prices if any(prices) else [Money(line.quantity, self.currency) for line in self.lines]
        return shared_out(self.customs.value, weights)

    @property
    def declared_value(self) -> Money:
        """What all goods are declared at."""
        return self.goods_value if self.customs.value is None else self.customs.value
