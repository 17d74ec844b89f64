"""Price list: the records read from one of the post's printed lists, wherever the file came from."""

from __future__ import annotations

from bisect import bisect_left
from collections.abc import Mapping
from dataclasses import dataclass, field, replace
from datetime import date, timedelta
from decimal import Decimal
from operator import attrgetter

from desk.domain.money import Money
from desk.domain.service import Service
from desk.domain.weight import Weight, WeightUnit

OLD_AFTER_DAYS = 396  # 13 months


@dataclass(frozen=True, slots=True)
class PriceRow:
    """One step of a list: the inclusive upper weight, also as the list writes it (`15.999`), and the price up to it."""

    max_weight: Weight
    max_label: str
    price: Money


@dataclass(frozen=True, slots=True)
class CubicTier:
    """One step of a list priced by size: the inclusive upper volume, also as the list writes it, and its price."""

    most_cubic_feet: Decimal
    label: str
    price: Money


@dataclass(frozen=True, slots=True)
class Surcharge:
    """A fee added to the price. `code`: nonmachinable, long-22, long-30, bulky or tube."""

    code: str
    amount: Money
    source: str
    known_by: str


@dataclass(frozen=True, slots=True)
class Extra:
    """Something that can be bought with a piece, such as a certificate of mailing or insurance.

    `value_max` is the highest declared value the price covers, None where the value does not matter; `services` are
    those it is sold with, empty for all.
    """

    code: str
    amount: Money
    source: str
    known_by: str
    value_max: Money | None = None
    services: frozenset[str] = frozenset()

    def holds_for(self, service: str, value: Money) -> bool:
        """Return True when this price applies to a piece of that service and declared value."""
        sold = not self.services or service in self.services
        return sold and (self.value_max is None or value <= self.value_max)


@dataclass(frozen=True, slots=True)
class DimensionalRule:
    """When size counts as weight: over so many cubic inches, volume / `divisor` in pounds.

    `rounding` is how each side is first rounded to whole inches: `nearest` or `up`. The rule applies from `since` on.
    """

    since: date
    over_cubic_inches: Decimal
    divisor: Decimal
    rounding: str
    source: str
    known_by: str


@dataclass(frozen=True, slots=True)
class ServiceChart:
    """One service in one list. `key` below is a zone, a price group, or empty where only weight counts.

    A `season` list applies only from `effective` to `until`. `max_weight` and `max_value` are limits of the service,
    which may be higher than the last row. `fees_listed` is false where fees for long, bulky, rolled or stiff pieces
    exist but this list does not show them.
    """

    service: str
    facts: Service
    chart: str
    effective: date
    until: date | None
    source: str
    known_by: str
    currency: str
    shapes: frozenset[str]
    keyed_by: str
    bills_in: WeightUnit
    max_weight: Weight | None
    max_value: Money | None
    flat_rate: bool
    fees_listed: bool
    surcharges: tuple[Surcharge, ...]
    dimensional: DimensionalRule | None
    dimensional_rules: tuple[DimensionalRule, ...]
    rows: Mapping[str, tuple[PriceRow, ...]] = field(hash=False)
    oversized: Mapping[str, Money] = field(hash=False)  # key -> price over 108 in length plus girth
    groups: Mapping[str, str] = field(hash=False)  # country -> price group
    country_limits: Mapping[str, Weight] = field(hash=False)
    tiers: Mapping[str, tuple[CubicTier, ...]] = field(default_factory=dict, hash=False)
    season: bool = False
    # The upper weights of the rows in grams, by key; plain numbers bisect fastest.
    limits: Mapping[str, tuple[Decimal, ...]] = field(init=False, hash=False, compare=False, repr=False)

    def __post_init__(self) -> None:
        limits = {key: tuple(row.max_weight.grams for row in rows) for key, rows in self.rows.items()}
        object.__setattr__(self, "limits", limits)

    def row(self, weight: Weight, key: str = "") -> PriceRow | None:
        """Return the first row whose inclusive upper weight is at least `weight`.

        None when the list ends below that weight, or has no column for that key. Source of "not over": the heading of
        the lists.
        """
        limits = self.limits.get(key, ())
        place = bisect_left(limits, weight.grams)
        return self.rows[key][place] if place < len(limits) else None

    def heaviest(self, key: str = "") -> Weight | None:
        """Return the upper weight of the last row for that key; None when the list has no such column."""
        rows = self.rows.get(key)
        return rows[-1].max_weight if rows else None

    def reaches_over(self, other: ServiceChart, key: str) -> bool:
        """Return True when this list has prices for that key that the other lacks: heavier, or oversized."""
        own, others = self.heaviest(key), other.heaviest(key)
        heavier = own is not None and (others is None or own > others)
        return heavier or (key in self.oversized and key not in other.oversized)

    def tier(self, cubic_feet: Decimal, key: str = "") -> CubicTier | None:
        """Return the first step by size whose upper volume is at least `cubic_feet`; None when there is none."""
        return next((tier for tier in self.tiers.get(key, ()) if cubic_feet <= tier.most_cubic_feet), None)

    def surcharge(self, code: str) -> Surcharge | None:
        """Return the fee with that code, or None when this list does not show one."""
        return next((fee for fee in self.surcharges if fee.code == code), None)

    def is_past(self, on: date) -> bool:
        """Return True when these prices were announced to end before that day."""
        return self.until is not None and on > self.until

    @property
    def last_day(self) -> date:
        """Return the last day these prices count as valid: the announced one, else 13 months after the first."""
        return self.until or self.effective + timedelta(days=OLD_AFTER_DAYS)

    def is_old(self, on: date) -> bool:
        """Return True when these prices are past their last day, or over 13 months old where none was announced.

        Prices change at least once a year (common practice, no source).
        """
        return on > self.last_day

    def counts_on(self, on: date) -> bool:
        """Return True when the list is in force on that day; a season list ends on its last day."""
        return self.effective <= on and not (self.season and self.is_past(on))

    def as_of(self, on: date) -> ServiceChart:
        """Return the list with that day's dimensional rule, which the standards change on other dates."""
        held = [rule for rule in self.dimensional_rules if rule.since <= on]
        rule = max(held, key=attrgetter("since")) if held else None
        return self if rule == self.dimensional else replace(self, dimensional=rule)
