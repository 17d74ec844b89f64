"""Read the texts of a column, each distinct text once: lists repeat the same few amounts and dates."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from datetime import date
from decimal import Decimal
from typing import TypeVar

from desk.domain.money import Money, zero
from desk.domain.places.country import Countries
from desk.intake.columns.amounts import NO_VALUE, NOISE, NotRead, currency_code, day, money, number, whole_number
from desk.intake.columns.formats import ColumnFormat

Key = TypeVar("Key")
Value = TypeVar("Value")
PLAIN = ColumnFormat()


# Decimals of a sum that was calculated, such as a line less 20%: rounded to cents, as the buyer paid it. A price of one
# piece is not, since the error would count for each piece.
SUB_CENTS = 3


class ReadOnce(dict[Key, Value]):
    """A dict that reads missing keys; text that cannot be read raises NotRead each time."""

    __slots__ = ("_reader",)

    def __init__(self, reader: Callable[[Key], Value], known: Mapping[Key, Value] | None = None) -> None:
        super().__init__(known or {})
        self._reader = reader

    def __missing__(self, key: Key) -> Value:
        value = self[key] = self._reader(key)
        return value


@dataclass(frozen=True, slots=True)
class DiscountCell:
    """A discount as written: an amount, or a share of the goods (0.15 for 15%)."""

    amount: Money
    share: Decimal = Decimal(0)


class CellReader:
    """Reads the texts of an order list's columns, each in its format; amounts are cached for each currency."""

    def __init__(self, countries: Countries, formats: Mapping[str, ColumnFormat]) -> None:
        find, first = countries.find, formats.get("placed", PLAIN).first
        self.formats = formats
        self.countries: ReadOnce[str, str] = ReadOnce(lambda typed: find(typed) or "", {"": ""})
        self.currencies: ReadOnce[str, str] = ReadOnce(currency_code)
        self.counts: ReadOnce[str, int] = ReadOnce(whole_number, {"": 1})
        self.days: ReadOnce[str, date | None] = ReadOnce(
            lambda text: None if text.casefold() in NO_VALUE else day(text, first), {"": None}
        )
        self._amounts: dict[tuple[str, str], ReadOnce[str, Money]] = {}
        self._discounts: dict[tuple[str, str], ReadOnce[str, DiscountCell]] = {}

    def amounts(self, name: str, currency: str) -> ReadOnce[str, Money]:
        """Return the amounts of one column in one currency, by their text."""
        known = self._amounts.get((name, currency))
        if known is None:
            decimal, nothing = self.formats.get(name, PLAIN).decimal, zero(currency)

            sub_cents = NOISE if name == "unit_price" else SUB_CENTS

            def read(text: str) -> Money:
                return nothing if text.casefold() in NO_VALUE else money(text, currency, decimal, sub_cents)

            known = self._amounts[name, currency] = ReadOnce(read, {"": nothing})
        return known

    def discounts(self, name: str, currency: str) -> ReadOnce[str, DiscountCell]:
        """Return the discounts of one column in one currency, by their text."""
        known = self._discounts.get((name, currency))
        if known is None:
            form, nothing = self.formats.get(name, PLAIN), zero(currency)

            def read(text: str) -> DiscountCell:
                return discount_cell(text, currency, form)

            known = self._discounts[name, currency] = ReadOnce(read, {"": DiscountCell(nothing)})
        return known


def discount_cell(text: str, currency: str, form: ColumnFormat) -> DiscountCell:
    """Return the discount a text gives; lists write it with or without a minus.

    Raises:
        NotRead: not a discount, or a share over the whole price.
    """
    nothing = zero(currency)
    if text.casefold() in NO_VALUE:
        return DiscountCell(nothing)
    if "%" in text or form.discount in ("percent", "fraction"):
        share = abs(number(text.replace("%", "").strip())) / (
            1 if form.discount == "fraction" and "%" not in text else 100
        )
        if share > 1:
            raise NotRead("a discount of at most 100%")
        return DiscountCell(nothing, share)
    if form.discount == "unclear" and text.strip("0.,"):
        raise NotRead("a discount that reads one way: an amount or a fraction")
    return DiscountCell(Money(abs(money(text, currency, form.decimal).minor), currency))
