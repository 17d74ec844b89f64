"""Tiny price lists for tests, so that a test shows every number it uses."""

from __future__ import annotations

from datetime import date
from decimal import Decimal
from typing import Any

from desk.domain.length import Size
from desk.domain.money import Money
from desk.domain.shop.mailer import MailerKind
from desk.domain.shop.shop import Policy
from desk.domain.weight import Weight, WeightUnit
from desk.rates.lists.chart import Charts
from desk.rates.lists.price_list import DimensionalRule, PriceRow, ServiceChart, Surcharge
from desk.rates.lists.service_facts import facts_by_shape
from desk.rates.posting import Posting, shown
from desk.rates.quote import PriceRules
from desk.rates.zone import Zones
from tests.rates.chart_folder import shipped

ON = date(2026, 7, 15)
ANY_SHAPE = frozenset({"letter", "flat", "parcel"})
CUBIC = DimensionalRule(date(2026, 7, 12), Decimal(1728), Decimal(139), "up", "the rule", "made up")


def zones_between(*prefixes: str, zone: str = "5") -> Zones:
    """Return a matrix in which all these prefixes are in one zone of each other, and no others are known."""
    row = "".join(zone if f"{number:03}" in prefixes else "0" for number in range(1000))
    return Zones("made up", "the matrix", dict.fromkeys(prefixes, row), {})


def fee(code: str, amount: str) -> Surcharge:
    """Return a surcharge of that amount."""
    return Surcharge(code, Money.of(amount), "the list", "made up")


def chart(service: str, cells: dict[str, str], *, key: str = "", unit: str = "oz", **fields: Any) -> ServiceChart:
    """Return one service with one column of prices: upper weight -> price."""
    rows = tuple(PriceRow(Weight.of(most, unit), most, Money.of(price)) for most, price in cells.items())
    shapes = fields.get("shapes", ANY_SHAPE)
    by_shape = facts_by_shape(service, shapes, fields.get("keyed_by", ""))
    plain: dict[str, Any] = {
        "facts": shipped().known.get(service, by_shape),
        "chart": "tiny",
        "effective": date(2026, 1, 1),
        "until": None,
        "source": "the list",
        "known_by": "made up",
        "currency": "USD",
        "shapes": ANY_SHAPE,
        "keyed_by": "",
        "bills_in": WeightUnit(unit),
        "max_weight": None,
        "max_value": None,
        "flat_rate": False,
        "fees_listed": True,
        "surcharges": (),
        "dimensional": None,
        "dimensional_rules": (),
        "oversized": {},
        "groups": {},
        "country_limits": {},
    }
    return ServiceChart(service=service, rows={key: rows}, **{**plain, **fields})


LETTER = chart(
    "letter-stamped",
    {"1": "0.80", "2": "1.10", "3": "1.40", "3.5": "1.70"},
    shapes=frozenset({"letter"}),
    max_weight=Weight.of("3.5", "oz"),
    surcharges=(fee("nonmachinable", "0.50"),),
)
CARD = chart("postcard", {"3.5": "0.60"}, shapes=frozenset({"postcard"}))
FLAT = chart(
    "flat",
    {str(ounce): f"{1.5 + ounce / 4:.2f}" for ounce in range(1, 14)},
    shapes=frozenset({"flat"}),
    max_weight=Weight.of(13, "oz"),
)
GROUND = chart(
    "ground-retail",
    {"4": "7.00", "8": "7.00", "15.999": "8.00", "16": "8.00", "32": "11.00", "320": "30.00"},
    key="5",
    keyed_by="zone",
    max_weight=Weight.of(70, "lb"),
    surcharges=(fee("long-22", "4.00"), fee("long-30", "8.00"), fee("bulky", "18.00"), fee("tube", "4.00")),
    dimensional=CUBIC,
    dimensional_rules=(CUBIC,),
    oversized={"5": Money.of("150.00")},
)
PRIORITY = chart("priority-retail", {"16": "9.00", "32": "10.00", "1120": "90.00"}, key="5", keyed_by="zone")
MEDIA = chart("media", {"16": "4.50", "32": "5.00"}, shapes=frozenset({"flat", "parcel"}))
FLAT_RATE = chart("priority-flat-envelope-retail", {"1120": "12.00"}, flat_rate=True)
ABROAD = {"keyed_by": "group", "groups": {"DE": "1"}, "key": "1"}
INTL_LETTER = chart(
    "intl-letter", {"1": "1.75", "2": "3.50", "3.5": "5.00"}, shapes=frozenset({"letter"}), fees_listed=False, **ABROAD
)
INTL_FLAT = chart(
    "intl-flat",
    {"1": "3.50", "8": "8.00", "15.994": "15.00"},
    shapes=frozenset({"flat"}),
    max_weight=Weight.of("15.994", "oz"),
    **ABROAD,
)
INTL_PACKAGE = chart(
    "intl-package",
    {"8": "20.00", "16": "25.00", "32": "35.00", "64": "60.00"},
    max_weight=Weight.of(64, "oz"),
    max_value=Money.of("400.00"),
    **ABROAD,
)
INTL_BOX = chart(
    "intl-priority-flat-small-box",
    {"64": "45.00"},
    flat_rate=True,
    max_weight=Weight.of(64, "oz"),
    country_limits={"DE": Weight.of(2, "lb")},
    **ABROAD,
)
ALL = (LETTER, CARD, FLAT, GROUND, PRIORITY, MEDIA, FLAT_RATE, INTL_LETTER, INTL_FLAT, INTL_PACKAGE, INTL_BOX)
FIVE = zones_between("100", "200", "340")


def rules(*charts: ServiceChart, **policy: Any) -> PriceRules:
    """Return the day's rules over these lists, or over all lists of this file."""
    return PriceRules(Charts.of(charts or ALL), FIVE, Policy(**policy), ON)


ENVELOPE = Size.of("9.5", "4.125", "0.05", "in")
LARGE_ENVELOPE = Size.of("12", "9", "0.5", "in")
BOX = Size.of("8", "6", "4", "in")


def piece(weight: str, size: Size | None = ENVELOPE, *, division: str = "0.001", **fields: Any) -> Posting:
    """Return a piece of so many ounces from 100 to 200, weighed so finely that there is no doubt."""
    plain: dict[str, Any] = {"mailer_kind": MailerKind.ENVELOPE, "origin_zip": "10001", "destination_zip": "20001"}
    return Posting(gross=shown(weight, "oz", division), size=size, **{**plain, **fields})


def codes(found: Any) -> list[str]:
    """Return the codes of findings or reasons."""
    return [each.code for each in found]
