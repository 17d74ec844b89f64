"""The rows of one order to an Order: what stands once, what stands on each line, and what does not fit together."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, field
from datetime import date
from operator import itemgetter
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
from desk.intake.remembered import Remembered

Value = TypeVar("Value")

LINE_LEVEL = ("item", "sku", "variant", "quantity", "unit_price")
LOST_ZERO = "common practice, no source: a spreadsheet drops the zero in front of a five-digit ZIP Code"


class Said(NamedTuple):
    """The text of each field of ours, in one row or in a whole order; empty where nothing stands."""

    order: str = ""
    placed: str = ""
    recipient: str = ""
    company: str = ""
    address1: str = ""
    address2: str = ""
    city: str = ""
    region: str = ""
    postal_code: str = ""
    country: str = ""
    email: str = ""
    phone: str = ""
    item: str = ""
    sku: str = ""
    variant: str = ""
    quantity: str = ""
    unit_price: str = ""
    currency: str = ""
    shipping_paid: str = ""
    shipping_choice: str = ""
    discount: str = ""
    status: str = ""
    buyer_note: str = ""


_line_level = itemgetter(*map(Said._fields.index, LINE_LEVEL))


def picked_by(columns: Columns) -> Callable[[tuple[str, ...]], Said]:
    """What takes the fields of ours out of a row's cells, in one go: lists of ten thousand rows are read with it."""
    width = len(columns.header)
    of_row = itemgetter(*(columns.places.get(ours, width) for ours in Said._fields))
    beyond = ("",) * (width + 1)  # a row may end early, and a field without a column is read behind the last one
    return lambda cells: Said._make(of_row(cells + beyond))


OrderRow = tuple[int, Said]  # the line of a row, and what it says


@dataclass(slots=True)
class OrderRows:
    """One order's rows, in file order."""

    number: str
    rows: list[OrderRow] = field(default_factory=list)

    def said(self) -> Said:
        """The first filled cell of each field."""
        if len(self.rows) == 1:
            return self.rows[0][1]
        fields = zip(*(said for _, said in self.rows), strict=True)
        return Said._make([next(filter(None, texts), "") for texts in fields])

    def line_of(self, ours: str) -> int:
        """The line of the first filled cell of a field; the order's first line when none is."""
        return next((line for line, said in self.rows if getattr(said, ours)), self.rows[0][0])

    def saying(self) -> Sequence[OrderRow]:
        """The rows that say something of an item; an order that names none has one nameless line."""
        if len(self.rows) == 1:
            return self.rows
        return [row for row in self.rows if any(_line_level(row[1]))] or self.rows[:1]


class Amounts:
    """What amounts in one currency read as."""

    __slots__ = ("paid", "taken_off")

    def __init__(self, currency: str, decimal: str) -> None:
        nothing = zero(currency)
        self.paid: Remembered[Money] = Remembered(lambda text: paid(text, currency, decimal), nothing)
        self.taken_off: Remembered[Money] = Remembered(lambda text: taken_off(text, currency, decimal), nothing)


@dataclass(slots=True)
class OrderReader:
    """Reads the orders of one file. Every fault of an order is noted, and reading goes on with the next one."""

    countries: Countries
    currency: str
    prefix: str
    source: str
    columns: Columns
    faults: FaultsFound
    reading: Reading = NOTHING_CHOSEN
    _codes: Remembered[str] = field(init=False)
    _currencies: Remembered[str] = field(init=False)
    _amounts: Remembered[Amounts] = field(init=False)
    _counts: Remembered[int] = field(init=False)
    _days: Remembered[date | None] = field(init=False)

    def __post_init__(self) -> None:
        find, decimal, dates = self.countries.find, self.reading.decimal, self.reading.dates
        self._codes = Remembered(lambda typed: find(typed) or "", "")
        self._currencies = Remembered(currency_code, self.currency)
        self._amounts = Remembered(lambda code: Amounts(code, decimal), Amounts(self.currency, decimal))
        self._counts = Remembered(count, 1)
        self._days = Remembered(lambda text: day(text, dates), None)

    def order(self, group: OrderRows) -> Order | None:
        """The order its rows tell; None when something in them cannot be read, which is noted.

        Country and address may be empty; that is a finding for later, not a fault.
        """
        if len(group.rows) > 1:
            self._compare(group)
        try:
            return self._built(group)
        except NotRead:
            self._note_unread(group)
            return None

    def _built(self, group: OrderRows) -> Order:
        said = group.said()
        currency = self._currencies[said.currency]
        amounts, counts = self._amounts[currency], self._counts
        lines = [
            OrderLine(of.item, counts[of.quantity], amounts.paid[of.unit_price], of.sku, of.variant)
            for _, of in group.saying()
        ]
        address, findings = self._address(said)
        return Order(  # by place, as the address: half as fast again for lists of ten thousand
            self.prefix + group.number,
            address,
            tuple(lines),
            currency,
            amounts.paid[said.shipping_paid],
            amounts.taken_off[said.discount],
            said.shipping_choice,
            said.status,
            said.buyer_note,
            self._days[said.placed],
            self.source,
            findings,
        )

    def _address(self, said: Said) -> tuple[Address, tuple[Finding, ...]]:
        code, region, postal_code = self._codes[said.country], said.region, said.postal_code
        findings: tuple[Finding, ...] = ()
        if code in DOMESTIC_PLACES:
            code, region = "US", code
        if code == "US" and len(postal_code) == 4 and postal_code.isascii() and postal_code.isdigit():
            mended = "0" + postal_code
            findings = (finding("postal-code-mended", LOST_ZERO, found=postal_code, mended=mended),)
            postal_code = mended
        address = Address(
            said.recipient,
            said.company,
            said.address1,
            said.address2,
            said.city,
            region,
            postal_code,
            code,
            said.email,
            said.phone,
            said.country,
        )
        return address, findings

    def _compare(self, group: OrderRows) -> None:
        """Note each later row that says something else than an earlier one of a thing that stands once an order."""
        fields = zip(*(said for _, said in group.rows), strict=True)
        several = {ours for ours, texts in zip(Said._fields, fields, strict=True) if len({*texts, ""}) > 2}
        for ours in sorted(several.difference(LINE_LEVEL, ("order",)), key=self.columns.places.__getitem__):
            (line, kept), *later = [(line, text) for line, said in group.rows if (text := getattr(said, ours))]
            for place, text in later:
                if text != kept and self._meaning(ours, text) != self._meaning(ours, kept):
                    expected = f"{kept!r} as on line {line}, or an empty cell; order {group.number} has one {ours}"
                    self.faults.add(place, self.columns.name(ours), text, expected)

    def _meaning(self, ours: str, text: str) -> object:
        """What makes two spellings the same: country names and codes, amounts and dates in two forms."""
        readers: dict[str, Callable[[str], object]] = {
            "country": lambda typed: self._codes[typed] or typed,
            "placed": self._days.__getitem__,
            "currency": currency_code,
            "shipping_paid": lambda typed: money(typed, self.currency, self.reading.decimal),
            "discount": lambda typed: money(typed, self.currency, self.reading.decimal),
        }
        try:
            return readers[ours](text) if ours in readers else text
        except NotRead:
            return text

    def _note_unread(self, group: OrderRows) -> None:
        """Note every cell of an order that cannot be read, each at its line."""
        said = group.said()
        code = self._noted(group.line_of("currency"), "currency", said, self._currencies)
        amounts = self._amounts[code or self.currency]
        self._noted(group.line_of("shipping_paid"), "shipping_paid", said, amounts.paid)
        self._noted(group.line_of("discount"), "discount", said, amounts.taken_off)
        for line, of in group.saying():
            self._noted(line, "unit_price", of, amounts.paid)
            self._noted(line, "quantity", of, self._counts)
        self._noted(group.line_of("placed"), "placed", said, self._days)

    def _noted(self, line: int, ours: str, said: Said, read: Mapping[str, Value]) -> Value | None:
        """What a field reads as; None for a fault, which is noted."""
        text = getattr(said, ours)
        try:
            return read[text]
        except NotRead as error:
            self.faults.add(line, self.columns.name(ours), text, str(error))
            return None


def paid(text: str, currency: str, decimal: str = "") -> Money:
    """An amount a buyer paid: 0.00 or more."""
    amount = money(text, currency, decimal)
    if amount.minor < 0:
        raise NotRead("an amount of 0.00 or more")
    return amount


def taken_off(text: str, currency: str, decimal: str = "") -> Money:
    """What is taken off an order; lists write it with or without a minus."""
    return Money(abs(money(text, currency, decimal).minor), currency)
