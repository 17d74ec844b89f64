"""Savings: what would cost less if the piece were a little lighter, thinner or shorter.

Nothing is decided here. What counts as near is common practice, no source: within an ounce; a side at most a quarter
over its limit; a thickness at most twice its limit.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from decimal import Decimal

from desk.domain.exact import plain
from desk.domain.length import INCH_MM, Length, Size
from desk.domain.money import Money
from desk.domain.service import PackageRule, PriceLevel, Service
from desk.domain.shop.shop import ParcelPayment
from desk.domain.size_limits import CUBIC_FOOT_INCHES, LARGE_ENVELOPE, LETTER, LONG, VERY_LONG
from desk.domain.weight import OUNCE_G, Weight
from desk.rates.case import open_case
from desk.rates.leeway import outcome_at
from desk.rates.posting import Posting
from desk.rates.quote import Offer, Quote, price_of, quote
from desk.rates.rules import PriceRules

REACH = Weight(OUNCE_G)
_SIDE_REACH, _THICKNESS_REACH = Decimal("1.25"), Decimal(2)
# Flat-rate packaging in inches: envelopes from Notice 123, July 12, 2026; insides of boxes from memory.
_ENVELOPES = {
    "envelope": (Decimal("12.5"), Decimal("9.5")),
    "padded": (Decimal("12.5"), Decimal("9.5")),
    "legal": (Decimal(15), Decimal("9.5")),
}
_BOXES = {
    "small-box": (Decimal("8.625"), Decimal("5.375"), Decimal("1.625")),
    "medium-box": (Decimal(11), Decimal("8.5"), Decimal("5.5")),
    "large-box": (Decimal(12), Decimal(12), Decimal("5.5")),
}
_THICKNESSES = tuple(plain(sides[2].inches()) for sides in (LETTER, LARGE_ENVELOPE))
_FACES = tuple((plain(sides[0].inches()), plain(sides[1].inches())) for sides in (LETTER, LARGE_ENVELOPE))
_LENGTHS = (plain(LONG.inches()), plain(VERY_LONG.inches()))
_CUBIC_INCHES = CUBIC_FOOT_INCHES


@dataclass(frozen=True, slots=True)
class Lighter:
    """What the piece would cost at `limit` or less, and how much that saves."""

    limit: Weight
    saves: Money
    service: str


@dataclass(frozen=True, slots=True)
class Smaller:
    """What the piece would cost if its `what` (thickness, face, length, volume) were within `limit`.

    The limit is in inches, a face (length and height) as `11.5 x 6.125`, a volume in cubic inches.
    """

    what: str
    limit: str
    saves: Money
    service: str


@dataclass(frozen=True, slots=True)
class OtherWay:
    """What the piece would cost by volume (no `packaging`) or in flat-rate packaging, next to its present price."""

    service: str
    packaging: str
    price: Money
    now: Money


def lighter(posting: Posting, quoted: Quote, rules: PriceRules) -> Lighter | None:
    """Return the nearest lower weight, within an ounce, at which the piece costs less; None when there is none."""
    chosen = quoted.chosen
    if chosen is None:
        return None
    case = open_case(posting, rules)
    for edge in reversed(case.limits_between(quoted.weight - REACH, quoted.weight)):
        there = outcome_at(case, edge)
        if there.price is not None and there.price < chosen.price.minor:
            return Lighter(edge, chosen.price - Money(there.price, chosen.price.currency), there.service)
    return None


def smaller(posting: Posting, quoted: Quote, rules: PriceRules) -> tuple[Smaller, ...]:
    """Return each size limit the piece slightly exceeds that would make it cheaper, largest saving first."""
    if posting.size is None or quoted.chosen is None:
        return ()
    savings = []
    for what, limit, size in _a_little_smaller(posting.size):
        there = quote(replace(posting, size=size), rules).chosen
        if there is not None and there.price < quoted.chosen.price:
            savings.append(Smaller(what, limit, quoted.chosen.price - there.price, there.service))
    return tuple(sorted(savings, key=lambda each: -each.saves.minor))


def other_ways(posting: Posting, quoted: Quote, rules: PriceRules) -> tuple[OtherWay, ...]:
    """Return the price by volume, and any flat-rate packaging that costs less, cheapest first.

    Only at the price level the shop buys parcels at, and only where the piece as packed would fit.
    """
    chosen = quoted.chosen
    if chosen is None or posting.size is None or not posting.country:
        return ()
    offered = {offer.service for offer in quoted.offers}
    ways = []
    for service in map(rules.service, rules.services()):
        by_volume = service.measured_as is PackageRule.CUBIC
        if service.id in offered or not (by_volume or service.packaging) or not _is_open(service, posting, rules):
            continue
        if service.packaging and not _goes_in(posting.size, service.packaging):
            continue
        key = _key_of(service.id, posting, rules)
        offer = price_of(posting, service.id, key, rules)
        if isinstance(offer, Offer) and (by_volume or offer.price < chosen.price):
            ways.append(OtherWay(service.id, service.packaging, offer.price, chosen.price))
    return tuple(sorted(ways, key=lambda way: (way.price.minor, way.service)))


def _goes_in(size: Size, packaging: str) -> bool:
    """Return True when a piece of that size fits flat-rate packaging; an envelope must close around it."""
    sides = [side.mm / INCH_MM for side in size.sides()]
    if packaging in _ENVELOPES:
        length, height = _ENVELOPES[packaging]
        return sides[0] + sides[2] <= length and sides[1] + sides[2] <= height
    inside = _BOXES.get(packaging)
    return inside is not None and all(side <= limit for side, limit in zip(sides, inside, strict=True))


def _is_open(service: Service, posting: Posting, rules: PriceRules) -> bool:
    level = PriceLevel.COUNTER if rules.policy.parcel_payment is ParcelPayment.COUNTER else PriceLevel.ONLINE
    return service.abroad == posting.abroad and service.price_level in (PriceLevel.ANY, level)


def _key_of(service: str, posting: Posting, rules: PriceRules) -> str:
    chart = rules.chart(service)
    if chart is None or not chart.keyed_by:
        return ""
    if chart.keyed_by == "group":
        return chart.groups.get(posting.country, "")
    return rules.zones.find(posting.origin_zip, posting.destination_zip).zone


def _a_little_smaller(size: Size) -> Iterator[tuple[str, str, Size]]:
    longest, middle, shortest = (side.mm / INCH_MM for side in size.sides())
    for limit in _THICKNESSES:
        if Decimal(limit) < shortest <= Decimal(limit) * _THICKNESS_REACH:
            yield "thickness", limit, _inches(longest, middle, Decimal(limit))
    for length, height in _FACES:
        within = min(longest, Decimal(length)), min(middle, Decimal(height))
        if (longest, middle) != within and longest <= within[0] * _SIDE_REACH and middle <= within[1] * _SIDE_REACH:
            yield "face", f"{length} x {height}", _inches(*within, shortest)
    for limit in _LENGTHS:
        if Decimal(limit) < longest <= Decimal(limit) * _SIDE_REACH:
            yield "length", limit, _inches(Decimal(limit), middle, shortest)
    if _CUBIC_INCHES < longest * middle * shortest <= _CUBIC_INCHES * _SIDE_REACH:
        yield "volume", f"{_CUBIC_INCHES}", _inches(longest, middle, _whole(_CUBIC_INCHES / (longest * middle)))


def _whole(side: Decimal) -> Decimal:
    """Return a side that keeps the volume within the limit after any rounding: whole inches, at least one."""
    return max(side // 1, Decimal(1))


def _inches(*sides: Decimal) -> Size:
    longest, middle, shortest = sorted((Length(side * INCH_MM) for side in sides), reverse=True)
    return Size(longest, middle, shortest)
