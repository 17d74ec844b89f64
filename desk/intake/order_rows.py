"""The rows of one order to an Order: what stands once, what stands on each line, and what does not fit together."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from typing import TypeVar

from desk.domain.address import Address
from desk.domain.country import DOMESTIC_PLACES, Countries
from desk.domain.finding import Finding, finding
from desk.domain.money import Money, zero
from desk.domain.order import Order, OrderLine
from desk.intake.amounts import NotRead, count, currency_code, day, money
from desk.intake.faults_found import FaultsFound
from desk.intake.headers import Columns
from desk.intake.reading import NOTHING_CHOSEN, Reading

Value = TypeVar("Value")

LINE_LEVEL = frozenset({"item", "sku", "variant", "quantity", "unit_price"})
LOST_ZERO = "common practice, no source: a spreadsheet drops the zero in front of a five-digit ZIP Code"


@dataclass(frozen=True, slots=True)
class OrderRow:
    """What one row says: the filled cells of fields we know, and its line."""

    line: int
    texts: Mapping[str, str]


@dataclass(slots=True)
class OrderRows:
    """One order's rows, in file order."""

    number: str
    rows: list[OrderRow] = field(default_factory=list)

    def first(self, ours: str) -> tuple[str, int]:
        """The first filled cell of a field and its line; an empty text and the order's first line when none is."""
        return next(((row.texts[ours], row.line) for row in self.rows if ours in row.texts), ("", self.rows[0].line))


@dataclass(frozen=True, slots=True)
class OrderReader:
    """Reads the orders of one file; faults are noted and a stand-in is read on with, so that all are found."""

    countries: Countries
    currency: str
    prefix: str
    source: str
    columns: Columns
    faults: FaultsFound
    reading: Reading = NOTHING_CHOSEN

    def order(self, group: OrderRows) -> Order:
        """The order its rows tell. Country and address may be empty; that is a finding for later, not a fault."""
        self._compare(group)
        currency = self._once(group, "currency", currency_code, self.currency)
        address, findings = self._address(group)
        decimal = self.reading.decimal
        shipping = self._once(group, "shipping_paid", lambda text: paid(text, currency, decimal), zero(currency))
        discount = self._once(group, "discount", lambda text: money(text, currency, decimal), zero(currency))
        return Order(
            number=self.prefix + group.number,
            address=address,
            lines=self._lines(group, currency),
            currency=currency,
            shipping_paid=shipping,
            discount=Money(abs(discount.minor), currency),  # lists write what is taken off with or without a minus
            shipping_choice=group.first("shipping_choice")[0],
            status=group.first("status")[0],
            buyer_note=group.first("buyer_note")[0],
            placed=self._once(group, "placed", lambda text: day(text, self.reading.dates), None),
            source=self.source,
            findings=findings,
        )

    def _lines(self, group: OrderRows, currency: str) -> tuple[OrderLine, ...]:
        """A line for each row that says something of an item; an order that names none has one nameless line."""
        saying = [row for row in group.rows if not LINE_LEVEL.isdisjoint(row.texts)]
        return tuple(self._line(row, currency) for row in saying or group.rows[:1])

    def _line(self, row: OrderRow, currency: str) -> OrderLine:
        said, decimal = row.texts.get, self.reading.decimal
        price = self._read(row.line, "unit_price", said("unit_price", ""), lambda text: paid(text, currency, decimal))
        return OrderLine(
            item=said("item", ""),
            quantity=self._read(row.line, "quantity", said("quantity", ""), count) or 1,
            unit_price=price or zero(currency),
            sku=said("sku", ""),
            variant=said("variant", ""),
        )

    def _address(self, group: OrderRows) -> tuple[Address, tuple[Finding, ...]]:
        fields = "recipient company address1 address2 city region postal_code country email phone".split()
        typed = {ours: group.first(ours)[0] for ours in fields}
        code = self.countries.find(typed["country"]) or ""
        region, postal_code = typed["region"], typed["postal_code"]
        findings: tuple[Finding, ...] = ()
        if code in DOMESTIC_PLACES:
            code, region = "US", code
        if code == "US" and len(postal_code) == 4 and postal_code.isascii() and postal_code.isdigit():
            postal_code = "0" + postal_code
            findings = (finding("postal-code-mended", LOST_ZERO, found=typed["postal_code"], mended=postal_code),)
        changed = {"country": code, "region": region, "postal_code": postal_code, "country_typed": typed["country"]}
        return Address(**{**typed, **changed}), findings

    def _compare(self, group: OrderRows) -> None:
        """Note each later row that says something else than an earlier one of a thing that stands once an order."""
        said: dict[str, tuple[str, int]] = {}
        for row in group.rows:
            for ours, text in row.texts.items():
                if ours in LINE_LEVEL or ours == "order":
                    continue
                kept, line = said.setdefault(ours, (text, row.line))
                if text != kept and self._meaning(ours, text) != self._meaning(ours, kept):
                    expected = f"{kept!r} as on line {line}, or an empty cell; order {group.number} has one {ours}"
                    self.faults.add(row.line, self.columns.name(ours), text, expected)

    def _meaning(self, ours: str, text: str) -> object:
        """What makes two spellings the same: country names and codes, amounts and dates in two forms."""
        readers: dict[str, Callable[[str], object]] = {
            "country": lambda typed: self.countries.find(typed) or typed,
            "placed": lambda typed: day(typed, self.reading.dates),
            "currency": currency_code,
            "shipping_paid": lambda typed: money(typed, self.currency, self.reading.decimal),
            "discount": lambda typed: money(typed, self.currency, self.reading.decimal),
        }
        try:
            return readers[ours](text) if ours in readers else text
        except NotRead:
            return text

    def _once(self, group: OrderRows, ours: str, reader: Callable[[str], Value], otherwise: Value) -> Value:
        text, line = group.first(ours)
        value = self._read(line, ours, text, reader)
        return otherwise if value is None else value

    def _read(self, line: int, ours: str, text: str, reader: Callable[[str], Value]) -> Value | None:
        """The value of a filled cell; None for an empty one, and for a fault, which is noted."""
        if not text:
            return None
        try:
            return reader(text)
        except NotRead as error:
            self.faults.add(line, self.columns.name(ours), text, str(error))
            return None


def paid(text: str, currency: str, decimal: str = "") -> Money:
    """An amount a buyer paid: 0.00 or more."""
    amount = money(text, currency, decimal)
    if amount.minor < 0:
        raise NotRead("an amount of 0.00 or more")
    return amount
