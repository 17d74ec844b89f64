"""Near: what would cost less if the piece were a little lighter, thinner or shorter.

Nothing is decided here. How far off counts as near is common practice, no source: an ounce, and a side that is over
its limit by no more than a quarter, or a thickness by no more than the limit itself.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from decimal import Decimal

from desk.domain.exact import plain
from desk.domain.length import INCH_MM, Length, Size
from desk.domain.money import Money
from desk.domain.size_limits import CUBIC_FOOT_INCHES, LARGE_ENVELOPE, LETTER, LONG, VERY_LONG
from desk.domain.weight import OUNCE_G, Weight
from desk.rates.case import open_case
from desk.rates.leeway import outcome_at
from desk.rates.posting import Posting
from desk.rates.quote import Quote, quote
from desk.rates.rules import PriceRules

REACH = Weight(OUNCE_G)
_SIDE_REACH, _THICKNESS_REACH = Decimal("1.25"), Decimal(2)
_THICKNESSES = tuple(plain(sides[2].inches()) for sides in (LETTER, LARGE_ENVELOPE))
_FACES = tuple((plain(sides[0].inches()), plain(sides[1].inches())) for sides in (LETTER, LARGE_ENVELOPE))
_LENGTHS = (plain(LONG.inches()), plain(VERY_LONG.inches()))
_CUBIC_INCHES = CUBIC_FOOT_INCHES


@dataclass(frozen=True, slots=True)
class Lighter:
    """What the piece would cost if it weighed no more than `limit`, and how much less that is."""

    limit: Weight
    saves: Money
    service: str


@dataclass(frozen=True, slots=True)
class Smaller:
    """What the piece would cost if its `what` (thickness, face, length, volume) were within `limit`.

    The limit is in inches, a face as `11.5 x 6.125`, a volume in cubic inches.
    """

    what: str
    limit: str
    saves: Money
    service: str


def lighter(posting: Posting, quoted: Quote, rules: PriceRules) -> Lighter | None:
    """The nearest weight below the quoted one at which the piece costs less, within an ounce; None: there is none."""
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
    """Each size limit the piece is a little over and that would make it cheaper, most saved first."""
    if posting.size is None or quoted.chosen is None:
        return ()
    found = []
    for what, limit, size in _a_little_smaller(posting.size):
        there = quote(replace(posting, size=size), rules).chosen
        if there is not None and there.price < quoted.chosen.price:
            found.append(Smaller(what, limit, quoted.chosen.price - there.price, there.service))
    return tuple(sorted(found, key=lambda each: -each.saves.minor))


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
    """A side that stays within the volume after any rounding of sides: whole inches, at least one."""
    return max(side // 1, Decimal(1))


def _inches(*sides: Decimal) -> Size:
    longest, middle, shortest = sorted((Length(side * INCH_MM) for side in sides), reverse=True)
    return Size(longest, middle, shortest)
