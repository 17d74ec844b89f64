"""The rows of one order to an Order: what stands once, what stands on each line, and what does not fit together."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from functools import lru_cache
from typing import NamedTuple, TypeVar

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


class OrderRow(NamedTuple):
    """What one row says: the filled cells of fields we know, and its line."""

    line: int
    texts: Mapping[str, str]


@dataclass(slots=True)
class OrderRows:
    """One order's rows, in file order."""

    number: str
    rows: list[OrderRow] = field(default_factory=list)

    def texts(self) -> Mapping[str, str]:
        """The first filled cell of each field."""
        if len(self.rows) == 1:
            return self.rows[0].texts
        said: dict[str, str] = {}
        for row in reversed(self.rows):
            said |= row.texts
        return said

    def first(self, ours: str) -> str:
        """The first filled cell of a field; empty when none is."""
        return next((row.texts[ours] for row in self.rows if ours in row.texts), "")

    def line_of(self, ours: str) -> int:
        """The line of the first filled cell of a field; the order's first line when none is."""
        return next((row.line for row in self.rows if ours in row.texts), self.rows[0].line)


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
        if len(group.rows) > 1:
            self._compare(group)
        texts, decimal = group.texts(), self.reading.decimal
        currency = self._once(group, texts, "currency", currency_code) or self.currency
        address, findings = self._address(texts)
        shipping = self._once(group, texts, "shipping_paid", paid, currency, decimal)
        discount = self._once(group, texts, "discount", taken_off, currency, decimal)
        said = texts.get
        return Order(
            number=self.prefix + group.number,
            address=address,
            lines=self._lines(group, currency),
            currency=currency,
            shipping_paid=nothing_in(currency) if shipping is None else shipping,
            discount=nothing_in(currency) if discount is None else discount,
            shipping_choice=said("shipping_choice", ""),
            status=said("status", ""),
            buyer_note=said("buyer_note", ""),
            placed=self._once(group, texts, "placed", day, self.reading.dates),
            source=self.source,
            findings=findings,
        )

    def _lines(self, group: OrderRows, currency: str) -> tuple[OrderLine, ...]:
        """A line for each row that says something of an item; an order that names none has one nameless line."""
        rows = group.rows
        if len(rows) == 1:
            return (self._line(rows[0], currency),)
        saying = [row for row in rows if not LINE_LEVEL.isdisjoint(row.texts)]
        return tuple([self._line(row, currency) for row in saying or rows[:1]])

    def _line(self, row: OrderRow, currency: str) -> OrderLine:
        said = row.texts.get
        price = self._read(row, "unit_price", paid, currency, self.reading.decimal)
        amount = nothing_in(currency) if price is None else price
        quantity = self._read(row, "quantity", count) or 1
        return OrderLine(said("item", ""), quantity, amount, said("sku", ""), said("variant", ""))

    def _address(self, texts: Mapping[str, str]) -> tuple[Address, tuple[Finding, ...]]:
        said = texts.get
        typed, region, postal_code = said("country", ""), said("region", ""), said("postal_code", "")
        code = self.countries.find(typed) or "" if typed else ""
        findings: tuple[Finding, ...] = ()
        if code in DOMESTIC_PLACES:
            code, region = "US", code
        if code == "US" and len(postal_code) == 4 and postal_code.isascii() and postal_code.isdigit():
            mended = "0" + postal_code
            findings = (finding("postal-code-mended", LOST_ZERO, found=postal_code, mended=mended),)
            postal_code = mended
        street = (said("address1", ""), said("address2", ""), said("city", ""), region, postal_code, code)
        who = (said("recipient", ""), said("company", ""))
        address = Address(*who, *street, said("email", ""), said("phone", ""), typed)  # by place: twice as fast
        return address, findings

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

    def _once(
        self, group: OrderRows, texts: Mapping[str, str], ours: str, reader: Callable[..., Value], *words: str
    ) -> Value | None:
        """What stands once an order; None for an empty cell, and for a fault, which is noted."""
        text = texts.get(ours)
        if not text:
            return None
        try:
            return reader(text, *words)
        except NotRead as error:
            self.faults.add(group.line_of(ours), self.columns.name(ours), text, str(error))
            return None

    def _read(self, row: OrderRow, ours: str, reader: Callable[..., Value], *words: str) -> Value | None:
        """The value of a filled cell; None for an empty one, and for a fault, which is noted."""
        text = row.texts.get(ours)
        if not text:
            return None
        try:
            return reader(text, *words)
        except NotRead as error:
            self.faults.add(row.line, self.columns.name(ours), text, str(error))
            return None


@lru_cache(maxsize=8192)
def paid(text: str, currency: str, decimal: str = "") -> Money:
    """An amount a buyer paid: 0.00 or more."""
    amount = money(text, currency, decimal)
    if amount.minor < 0:
        raise NotRead("an amount of 0.00 or more")
    return amount


@lru_cache(maxsize=8192)
def taken_off(text: str, currency: str, decimal: str = "") -> Money:
    """What is taken off an order; lists write it with or without a minus."""
    return Money(abs(money(text, currency, decimal).minor), currency)


nothing_in = lru_cache(maxsize=None)(zero)  # one record for all orders that paid nothing
