"""The form of a shop file: its tables and fields, and the text shown when one is wrong.

Numbers may be written as text (`"4.20"`) or as TOML numbers; both are read exactly.
"""

from __future__ import annotations

import datetime as dt
import re
from collections.abc import Callable
from decimal import Decimal
from enum import StrEnum
from typing import Annotated

from pydantic import BaseModel, BeforeValidator, ConfigDict, Field

from desk.domain.length import Length, LengthUnit
from desk.domain.shop.mailer import MailerKind
from desk.domain.shop.product import Restriction
from desk.domain.shop.shop import LetterPostage, ParcelPayment
from desk.domain.shop.stamp import StampKind
from desk.domain.weight import ONE_NUMBER_UNITS, Weight, WeightUnit
from desk.intake.columns.amounts import NotRead, currency_code, day, number

_WITH_UNIT = re.compile(r"([0-9.,]+)\s*([a-z]+)")


def _decimal(value: object) -> Decimal:
    """Return a TOML number, or a number in text; booleans are refused."""
    if isinstance(value, bool) or not isinstance(value, int | str | Decimal):
        raise NotRead('a number, such as "4.20"')
    read = number(value) if isinstance(value, str) else Decimal(value)
    if not read.is_finite():
        raise NotRead('a number, such as "4.20"')
    return read


def _not_negative(value: object) -> Decimal:
    if (read := _decimal(value)) < 0:
        raise NotRead("a number of 0 or more")
    return read


def _above_zero(value: object) -> Decimal:
    if (read := _decimal(value)) <= 0:
        raise NotRead("a number above 0")
    return read


def _weight(value: object) -> Weight:
    """Return a weight with its unit in the text: `3 g`, `0.1 oz`."""
    match = _WITH_UNIT.fullmatch(value.strip().casefold()) if isinstance(value, str) else None
    if match is None or match[2] not in ONE_NUMBER_UNITS:
        raise NotRead('a weight with its unit, such as "3 g"')
    return Weight.of(number(match[1]), match[2])


def _country(value: object) -> str:
    if not isinstance(value, str) or not re.fullmatch(r"[A-Za-z]{2}", value.strip()):
        raise NotRead('a country code of two letters, such as "US"')
    return value.strip().upper()


def _origin(value: object) -> str:
    """Return where a product was made; empty while not given."""
    return "" if value == "" else _country(value)


def _currency(value: object) -> str:
    if not isinstance(value, str):
        raise NotRead('a currency code in quotes, such as "USD"')
    return currency_code(value)


def _date(value: object) -> dt.date:
    if isinstance(value, dt.date) and not isinstance(value, dt.datetime):
        return value
    return day(str(value))


def _untracked(value: object) -> str | Decimal:
    if isinstance(value, str) and value in {"always", "asked"}:
        return value
    try:
        return _not_negative(value)
    except NotRead:
        raise NotRead('"always", "asked", or an order value such as "45.00"') from None


def _one_of(words: type[StrEnum]) -> Callable[[object], StrEnum]:
    """Return a reader of one word from a list, whose error names the choices."""

    def read(value: object) -> StrEnum:
        if isinstance(value, str) and value in [str(word) for word in words]:
            return words(value)
        raise NotRead(f"one of {', '.join(words)}")

    return read


def _restrictions(value: object) -> tuple[Restriction, ...]:
    """Return several restrictions, from a list or from words separated by commas, each once and in enum order."""
    words = re.split(r"[,;|+]", value) if isinstance(value, str) else value
    if not isinstance(words, list | tuple):
        raise NotRead(f"any of {', '.join(Restriction)}")
    read = _one_of(Restriction)
    restrictions = {read(word.strip() if isinstance(word, str) else word) for word in words if word != ""}
    return tuple(one for one in Restriction if one in restrictions)


Number = Annotated[Decimal, BeforeValidator(_decimal)]
Amount = Annotated[Decimal, BeforeValidator(_not_negative)]
Measure = Annotated[Decimal, BeforeValidator(_above_zero)]
Text = Annotated[str, Field(strict=True)]
Filled = Annotated[str, Field(strict=True, min_length=1)]
YesNo = Annotated[bool, Field(strict=True)]
Words = tuple[Text, ...]
Restrictions = Annotated[tuple[Restriction, ...], BeforeValidator(_restrictions)]
WeightWord = Annotated[WeightUnit, BeforeValidator(_one_of(WeightUnit))]
LengthWord = Annotated[LengthUnit, BeforeValidator(_one_of(LengthUnit))]
WeightText = Annotated[Weight, BeforeValidator(_weight)]
CountryCode = Annotated[str, BeforeValidator(_country)]
CurrencyCode = Annotated[str, BeforeValidator(_currency)]


class Table(BaseModel):
    """A table of the file: unknown fields are refused."""

    model_config = ConfigDict(extra="forbid", frozen=True, arbitrary_types_allowed=True, str_strip_whitespace=True)


class SenderTable(Table):
    """Who sends, for labels and declarations."""

    name: Text = ""
    company: Text = ""
    address1: Filled
    address2: Text = ""
    city: Filled
    region: Filled
    postal_code: Filled
    country: CountryCode
    phone: Text = ""
    email: Text = ""
    first_name: Text = ""
    last_name: Text = ""


class PolicyTable(Table):
    """How this shop sends."""

    currency: CurrencyCode = "USD"
    letter_postage: Annotated[LetterPostage, BeforeValidator(_one_of(LetterPostage))] = LetterPostage.STAMPED
    parcel_services: Words | None = None
    intl_services: Words | None = None
    parcel_payment: Annotated[ParcelPayment, BeforeValidator(_one_of(ParcelPayment))] = ParcelPayment.ONLINE
    untracked: Annotated[str | Decimal, BeforeValidator(_untracked)] = "always"
    skip_status: Words | None = None
    ship_status: Words | None = None
    stamp_request_phrases: Words = ()
    cautious: YesNo = False
    max_stamps: Annotated[int, Field(strict=True, ge=1)] | None = None
    scale_division: Measure | None = None
    scale_unit: WeightWord | None = None
    scale_rounds_up: YesNo = False
    learn_weights: YesNo = True
    close_call_from: Amount | None = None
    cover_from: Amount | None = None
    label_weight: WeightText | None = None
    insert_cost: Amount = Decimal(0)
    insert_weight: WeightText | None = None
    label_cost: Amount = Decimal(0)


class TaxIdsTable(Table):
    """Numbers under which tax is prepaid; their form is checked where they are used."""

    ioss: Text = ""
    voec: Text = ""
    uk_vat: Text = ""
    au_arn: Text = ""
    nz_gst: Text = ""


class RateTable(Table):
    """An exchange rate and its day."""

    rate: Measure
    date: Annotated[dt.date, BeforeValidator(_date)]
    source: Text = ""


class MailerTable(Table):
    """A mailer on the shelf."""

    name: Filled
    kind: Annotated[MailerKind, BeforeValidator(_one_of(MailerKind))]
    length: Measure | None = None
    width: Measure | None = None
    thickness: Measure | None = None
    size_unit: LengthWord | None = None
    tare: Amount | None = None
    tare_unit: WeightWord | None = None
    pack_price: Amount | None = None
    pack_count: Annotated[int, Field(strict=True, ge=1)] = 1
    stiff: YesNo | None = None
    reused: YesNo = False
    paper: YesNo | None = None
    only_service: Text = ""


class ProductTable(Table):
    """A product the shop sells. Its sides are in `size_unit`, inches unless given."""

    sku: Text = ""
    name: Text = ""
    unit_weight: Measure | None = None
    weight_unit: WeightWord | None = None
    customs_words: Text = ""
    hs: Text = ""
    origin: Annotated[str, BeforeValidator(_origin)] = ""
    stiff: YesNo = False
    length: Measure | None = None
    width: Measure | None = None
    thickness: Measure | None = None
    size_unit: LengthWord = LengthUnit.INCH
    document: YesNo = False
    media: YesNo = False
    restricted: Restrictions = ()
    usual_mailer: Text = ""
    no_goods: YesNo = False

    def side(self, value: Decimal | None) -> Length | None:
        """Return one of its sides as a length, or None."""
        return None if value is None else Length.of(value, self.size_unit)


class StampTable(Table):
    """Stamps of one kind on hand."""

    kind: Annotated[StampKind, BeforeValidator(_one_of(StampKind))]
    value: Measure | None = None
    count: Annotated[int, Field(strict=True, ge=0)]


class ShopTable(Table):
    """The whole file."""

    sender: SenderTable
    policy: PolicyTable = PolicyTable()
    choices: dict[str, Words] = {}
    tax_ids: TaxIdsTable = TaxIdsTable()
    rates: dict[str, RateTable] = {}
    mailers: tuple[MailerTable, ...] = ()
    products: tuple[ProductTable, ...] = ()
    stamps: tuple[StampTable, ...] = ()
