"""The rows of one order to an Order: what stands once, what stands on each line, and what does not fit together."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, field
from datetime import date
from operator import itemgetter
from typing import NamedTuple, TypeVar

from desk.domain.address import Address
from desk.domain.country import DOMESTIC_PLACES, Countries
from desk.domain.finding import Code, Finding, finding
from desk.domain.money import Money, zero
from desk.domain.order import Order, OrderLine
from desk.intake.columns.amounts import NotRead, count, currency_code, day, money
from desk.intake.columns.headers import Columns
from desk.intake.columns.reading import NOTHING_CHOSEN, Reading
from desk.intake.columns.sheet import Row
from desk.intake.orders.fast_records import swift
from desk.intake.orders.parsed_once import Remembered
from desk.intake.table.faults_found import FaultsFound

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


Texts = tuple[str, ...]  # the fields of Said in their order, as plain as ten thousand rows need them to be
OrderRows = Sequence[tuple[int, Texts]]  # the rows of one order, in file order: each with its line and what it says
PLACE = {ours: place for place, ours in enumerate(Said._fields)}
ONCE = tuple(ours for ours in Said._fields if ours not in LINE_LEVEL and ours != "order")  # stands once an order
_line_level: Callable[[Texts], Texts] = itemgetter(*map(PLACE.__getitem__, LINE_LEVEL))
_once: Callable[[Texts], Texts] = itemgetter(*map(PLACE.__getitem__, ONCE))
_NOTHING_ONCE = ("",) * len(ONCE)
_order, _address, _line = swift(Order), swift(Address), swift(OrderLine)


def picked_by(columns: Columns) -> Callable[[Texts], Texts]:
    """What takes the fields of ours out of a row's cells: by hand, as it is half the time that itemgetter takes."""
    width = len(columns.header)
    nothing = ("",) * (width + 1)  # a row may end early, and a field without a column is read behind the last cell
    (
        order, placed, recipient, company, address1, address2, city, region, postal_code, country, email, phone,
        item, sku, variant, quantity, unit_price, currency, paid, choice, discount, status, note,
    ) = (columns.places.get(ours, -1) for ours in Said._fields)  # fmt: skip

    def picked(cells: Texts) -> Texts:
        of = cells + nothing[min(len(cells), width) :]
        return (
            of[order], of[placed], of[recipient], of[company], of[address1], of[address2], of[city], of[region],
            of[postal_code], of[country], of[email], of[phone], of[item], of[sku], of[variant], of[quantity],
            of[unit_price], of[currency], of[paid], of[choice], of[discount], of[status], of[note],
        )  # fmt: skip

    return picked


def said_in(rows: OrderRows) -> Texts:
    """The first filled cell of each field."""
    fields = zip(*(said for _, said in rows), strict=True)
    return tuple([next(filter(None, texts), "") for texts in fields])


def is_plain(rows: OrderRows) -> bool:
    """True when the first row says all that stands once an order; later ones are silent on it, or repeat it."""
    whole = (_once(rows[0][1]), _NOTHING_ONCE)
    return all(_once(said) in whole for _, said in rows)


def line_of(rows: OrderRows, ours: str) -> int:
    """The line of the first filled cell of a field; the order's first line when none is."""
    return next((line for line, said in rows if said[PLACE[ours]]), rows[0][0])


def saying(rows: OrderRows) -> OrderRows:
    """The rows that say something of an item; an order that names none has one nameless line."""
    return [row for row in rows if any(_line_level(row[1]))] or rows[:1]


class Amounts:
    """What amounts in one currency read as, and lines with such a price: buyers order the same things."""

    __slots__ = ("lines", "paid", "taken_off")

    def __init__(self, currency: str, decimal: str, counts: Remembered[str, int]) -> None:
        nothing = {"": zero(currency)}
        self.paid: Remembered[str, Money] = Remembered(lambda text: paid(text, currency, decimal), nothing)
        self.taken_off: Remembered[str, Money] = Remembered(lambda text: taken_off(text, currency, decimal), nothing)

        def line(texts: Texts) -> OrderLine:
            item, sku, variant, quantity, unit_price = texts
            return _line(item, counts[quantity], self.paid[unit_price], sku, variant)

        self.lines: Remembered[Texts, OrderLine] = Remembered(line)


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
    _picked: Callable[[Texts], Texts] = field(init=False)
    _codes: Remembered[str, str] = field(init=False)
    _currencies: Remembered[str, str] = field(init=False)
    _amounts: Remembered[str, Amounts] = field(init=False)
    _counts: Remembered[str, int] = field(init=False)
    _days: Remembered[str, date | None] = field(init=False)

    def __post_init__(self) -> None:
        find, decimal, dates = self.countries.find, self.reading.decimal, self.reading.dates
        self._picked = picked_by(self.columns)
        self._codes = Remembered(lambda typed: find(typed) or "", {"": ""})
        self._currencies = Remembered(currency_code, {"": self.currency})
        self._counts = Remembered(count, {"": 1})
        self._amounts = Remembered(lambda code: Amounts(code, decimal, self._counts))
        self._days = Remembered(lambda text: day(text, dates), {"": None})

    def order(self, number: str, rows: Sequence[Row]) -> Order | None:
        """The order its rows tell; None when something in them cannot be read, which is noted.

        Country and address may be empty; that is a finding for later, not a fault.
        """
        picked = self._picked
        group = [(row[0], picked(row[1])) for row in rows]
        said = group[0][1]
        if len(group) > 1 and not is_plain(group):
            self._compare(number, group)
            said = said_in(group)
        try:
            return self._built(number, said, group)
        except NotRead:
            self._note_unread(said, group)
            return None

    def _built(self, number: str, said: Texts, rows: OrderRows) -> Order:
        # All fields of Said in their order, and all of Order and Address in theirs: by place, for lists of ten thousand.
        (
            _, placed, recipient, company, address1, address2, city, region, postal_code, country, email, phone,
            item, sku, variant, quantity, unit_price, currency, shipping_paid, choice, discount, status, note,
        ) = said  # fmt: skip
        money_in = self._currencies[currency]
        amounts = self._amounts[money_in]
        lines = amounts.lines
        code = self._codes[country]
        findings: tuple[Finding, ...] = ()
        if code == "US" or code in DOMESTIC_PLACES:
            if code != "US":
                code, region = "US", code
            if len(postal_code) == 4:
                postal_code, findings = _with_its_zero(postal_code)
        return _order(
            self.prefix + number,
            _address(recipient, company, address1, address2, city, region, postal_code, code, email, phone, country),
            (lines[item, sku, variant, quantity, unit_price],)
            if len(rows) == 1
            else tuple([lines[_line_level(of)] for _, of in saying(rows)]),
            money_in,
            amounts.paid[shipping_paid],
            amounts.taken_off[discount],
            choice,
            status,
            note,
            self._days[placed],
            self.source,
            findings,
        )

    def _compare(self, number: str, rows: OrderRows) -> None:
        """Note each later row that says something else than an earlier one of a thing that stands once an order."""
        fields = zip(*(said for _, said in rows), strict=True)
        several = {ours for ours, texts in zip(Said._fields, fields, strict=True) if len({*texts, ""}) > 2}
        for ours in sorted(several.intersection(ONCE), key=self.columns.places.__getitem__):
            (line, kept), *later = [(line, text) for line, said in rows if (text := said[PLACE[ours]])]
            for place, text in later:
                if text != kept and self._meaning(ours, text) != self._meaning(ours, kept):
                    expected = f"{kept!r} as on line {line}, or an empty cell; order {number} has one {ours}"
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

    def _note_unread(self, said: Texts, rows: OrderRows) -> None:
        """Note every cell of an order that cannot be read, each at its line."""
        code = self._noted(line_of(rows, "currency"), "currency", said, self._currencies)
        amounts = self._amounts[code or self.currency]
        self._noted(line_of(rows, "shipping_paid"), "shipping_paid", said, amounts.paid)
        self._noted(line_of(rows, "discount"), "discount", said, amounts.taken_off)
        for line, of in saying(rows):
            self._noted(line, "unit_price", of, amounts.paid)
            self._noted(line, "quantity", of, self._counts)
        self._noted(line_of(rows, "placed"), "placed", said, self._days)

    def _noted(self, line: int, ours: str, said: Texts, read: Mapping[str, Value]) -> Value | None:
        """What a field reads as; None for a fault, which is noted."""
        text = said[PLACE[ours]]
        try:
            return read[text]
        except NotRead as error:
            self.faults.add(line, self.columns.name(ours), text, str(error))
            return None


def _with_its_zero(postal_code: str) -> tuple[str, tuple[Finding, ...]]:
    """A US code of four digits with the zero it lost, and the finding that tells it; other codes as they are."""
    if not (postal_code.isascii() and postal_code.isdigit()):
        return postal_code, ()
    mended = "0" + postal_code
    return mended, (finding(Code.POSTAL_CODE_MENDED, LOST_ZERO, typed=postal_code, mended=mended),)


def paid(text: str, currency: str, decimal: str = "") -> Money:
    """An amount a buyer paid: 0.00 or more."""
    amount = money(text, currency, decimal)
    if amount.minor < 0:
        raise NotRead("an amount of 0.00 or more")
    return amount


def taken_off(text: str, currency: str, decimal: str = "") -> Money:
    """What is taken off an order; lists write it with or without a minus."""
    return Money(abs(money(text, currency, decimal).minor), currency)
