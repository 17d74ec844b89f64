"""Read the lines of one order: goods, and other items shops list among them, with sums to check the order total."""

from __future__ import annotations

from collections.abc import Collection, Iterable, Sequence
from dataclasses import dataclass, field
from decimal import ROUND_HALF_UP, Decimal
from typing import NamedTuple

from desk.domain.finding import Code, Finding, finding
from desk.domain.money import Money
from desk.domain.orders.order import Charge, OrderLine
from desk.domain.shop.product import Product
from desk.intake.columns.amounts import NotRead
from desk.intake.columns.headers import folded
from desk.intake.orders.cells import CellReader
from desk.intake.orders.line_kinds import LineKind, kind_of_words

SHOWN = 80  # characters of a cell that a finding quotes


class LineCells(NamedTuple):
    """The texts of one row about its item."""

    item: str = ""
    sku: str = ""
    variant: str = ""
    quantity: str = ""
    unit_price: str = ""
    line_total: str = ""
    line_discount: str = ""


@dataclass(slots=True)
class LineSums:
    """The sums of one order's lines, in minor units. Orders with identical lines share one record."""

    currency: str
    goods: list[OrderLine] = field(default_factory=list)
    charges: list[Charge] = field(default_factory=list)
    findings: list[Finding] = field(default_factory=list)
    discount: int = 0
    shipping: int = 0
    tax: int = 0
    returned: int = 0

    @property
    def goods_minor(self) -> int:
        """Return what the goods cost before any discount."""
        return sum(line.unit_price.minor * line.quantity for line in self.goods)


@dataclass(frozen=True, slots=True)
class KnownProducts:
    """The shop's products by folded SKU and name: goods, and those that are not."""

    goods: Collection[str] = frozenset()
    no_goods: Collection[str] = frozenset()

    @classmethod
    def of(cls, products: Iterable[Product]) -> KnownProducts:
        """Collect the products of a shop."""
        names: dict[bool, set[str]] = {False: set(), True: set()}
        for product in products:
            names[product.no_goods].update(filter(None, (folded(product.sku), folded(product.name))))
        return cls(frozenset(names[False]), frozenset(names[True]))

    def kind(self, line: LineCells) -> LineKind | None:
        """Return what a product of the shop is; None for one it does not have."""
        for name in filter(None, (folded(line.sku), folded(line.item))):
            if name in self.goods or name in self.no_goods:
                return LineKind.CHARGE if name in self.no_goods else LineKind.GOODS
        return None


class OrderLineReader:
    """Reads the lines of orders; anything unreadable becomes a finding of that order."""

    def __init__(self, cells: CellReader, names: dict[str, str], products: KnownProducts) -> None:
        self._cells, self._names, self._products = cells, names, products
        self._known: dict[tuple[str, tuple[LineCells, ...]], LineSums] = {}  # buyers order the same things

    def read(self, rows: Sequence[LineCells], currency: str) -> LineSums:
        """Return the lines of one order, with their sums."""
        key = (currency, tuple(rows))
        sums = self._known.get(key)
        if sums is None:
            sums = self._known[key] = LineSums(currency)
            for row in rows:
                self._add(row, sums)
        return sums

    def _add(self, row: LineCells, sums: LineSums) -> None:
        quantity = self._quantity(row, sums)
        price, whole = self._prices(row, sums)
        if whole is None:
            whole = price * quantity
        elif row.unit_price and price * quantity != whole and not row.line_discount:
            sums.findings.append(
                finding(
                    Code.LINE_TOTAL_DIFFERS,
                    item=_shown(row.item),
                    reckoned=Money(price * quantity, sums.currency).text(),
                    found=row.line_total,
                    currency=sums.currency,
                )
            )
        kind = self._products.kind(row) or kind_of_words(row.item)
        if whole < 0 <= quantity and kind in (LineKind.GOODS, LineKind.DOUBTFUL):
            kind = LineKind.DISCOUNT
            amount = Money(whole, sums.currency).text()
            sums.findings.append(
                finding(Code.LINE_NEGATIVE, item=_shown(row.item), amount=amount, currency=sums.currency)
            )
        if kind in (LineKind.GOODS, LineKind.DOUBTFUL) or (kind is LineKind.DISCOUNT and whole > 0):
            self._add_goods(row, quantity, price, whole, kind, sums)
        elif kind is LineKind.DISCOUNT:
            sums.discount -= whole
        elif kind is LineKind.SHIPPING:
            sums.shipping += whole
        elif kind is LineKind.TAX:
            sums.tax += whole
        else:
            sums.charges.append(Charge(row.item, Money(whole, sums.currency)))

    def _add_goods(self, row: LineCells, quantity: int, price: int, whole: int, kind: LineKind, sums: LineSums) -> None:
        if kind is not LineKind.GOODS:
            sums.findings.append(finding(Code.LINE_DOUBTFUL, item=_shown(row.item)))
        if quantity < 0:
            sums.returned -= whole
            sums.findings.append(finding(Code.LINE_RETURNED, item=_shown(row.item), quantity=quantity))
            return
        if quantity == 0:
            sums.findings.append(finding(Code.LINE_ZERO, item=_shown(row.item)))
            return
        if row.line_discount:
            sums.discount += self._discount(row, whole, sums)
        if not row.unit_price and whole % quantity:
            price = whole // quantity  # cents that do not divide go to the last item, so the sum is kept
            last = OrderLine(row.item, 1, Money(whole - price * (quantity - 1), sums.currency), row.sku, row.variant)
            sums.goods.append(OrderLine(row.item, quantity - 1, Money(price, sums.currency), row.sku, row.variant))
            sums.goods.append(last)
            return
        price = price if row.unit_price else whole // quantity
        sums.goods.append(OrderLine(row.item, quantity, Money(price, sums.currency), row.sku, row.variant))

    def _quantity(self, row: LineCells, sums: LineSums) -> int:
        try:
            return self._cells.counts[row.quantity]
        except NotRead as error:
            sums.findings.append(self._unread("quantity", row.quantity, error))
            return 1

    def _prices(self, row: LineCells, sums: LineSums) -> tuple[int, int | None]:
        """Return unit price and line total in minor units; None without a line-total column."""
        prices: list[int | None] = []
        for name in ("unit_price", "line_total"):
            text: str = getattr(row, name)
            try:
                prices.append(self._cells.amounts(name, sums.currency)[text].minor if text else None)
            except NotRead as error:
                sums.findings.append(self._unread(name, text, error))
                prices.append(None)
        return prices[0] or 0, prices[1]

    def _discount(self, row: LineCells, whole: int, sums: LineSums) -> int:
        try:
            cell = self._cells.discounts("line_discount", sums.currency)[row.line_discount]
        except NotRead as error:
            sums.findings.append(self._unread("line_discount", row.line_discount, error))
            return 0
        return cell.amount.minor + share_of(whole, cell.share)

    def _unread(self, name: str, text: str, error: NotRead) -> Finding:
        return cell_not_read(self._names.get(name, name), text, error)


def cell_not_read(column: str, text: str, error: NotRead) -> Finding:
    """Return the finding of a cell that could not be read."""
    return finding(Code.CELL_NOT_READ, column=column, found=_shown(text), expected=str(error))


def share_of(amount: int, share: Decimal) -> int:
    """Return a share of an amount in minor units, rounded half up."""
    return int((amount * share).quantize(Decimal(1), ROUND_HALF_UP)) if share else 0


def _shown(text: str) -> str:
    return text if len(text) <= SHOWN else text[: SHOWN - 1] + "…"
