"""Compare a list with the one in force, cell by cell: ratios, falling prices, missing and new cells."""

from __future__ import annotations

import itertools
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from decimal import Decimal

from desk.domain.money import Money
from desk.rates.lists.cells_file import OVERSIZED
from desk.rates.lists.price_list import ServiceChart

Place = tuple[str, str]  # key, weight as the list writes it


@dataclass(frozen=True, slots=True)
class CellChange:
    """One cell that changed, or whose price falls. `before` is None for a new cell, `after` for a missing one.

    `falls` names the direction in which the new price falls where prices normally rise: `weight`, `zone` or `weight and
    zone`.
    """

    service: str
    key: str
    weight: str
    before: Money | None
    after: Money | None
    falls: str = ""

    @property
    def ratio(self) -> Decimal | None:
        """Return new over old price, to four places; None when either is missing."""
        if self.before is None or self.after is None or not self.before or self.before.currency != self.after.currency:
            return None
        return (Decimal(self.after.minor) / self.before.minor).quantize(Decimal("0.0001"))


def compare(before: ServiceChart | None, after: ServiceChart) -> tuple[CellChange, ...]:
    """Return what changed in `after`, in the order of the new list, then the cells it lacks."""
    old, new = cells_of(before) if before else {}, cells_of(after)
    falls = _falls(after)
    changes = [
        CellChange(after.service, key, weight, old.get((key, weight)), price, falls.get((key, weight), ""))
        for (key, weight), price in new.items()
        if old.get((key, weight)) != price or (key, weight) in falls
    ]
    missing = [place for place in old if place not in new]
    return (*changes, *(CellChange(after.service, key, weight, old[key, weight], None) for key, weight in missing))


def cells_of(chart: ServiceChart) -> dict[Place, Money]:
    """Return every price of a list by key and weight or volume, the oversized ones last."""
    cells = {(key, row.max_label): row.price for key, rows in chart.rows.items() for row in rows}
    cells |= {(key, tier.label): tier.price for key, tiers in chart.tiers.items() for tier in tiers}
    return cells | {(key, OVERSIZED): price for key, price in chart.oversized.items()}


def _falls(chart: ServiceChart) -> Mapping[Place, str]:
    by_weight = set(_falls_by_weight(chart))
    by_zone = set(_falls_by_zone(chart)) if chart.keyed_by == "zone" else set()
    along = dict.fromkeys(by_weight, "weight") | dict.fromkeys(by_zone, "zone")
    return along | dict.fromkeys(by_weight & by_zone, "weight and zone")


def _falls_by_weight(chart: ServiceChart) -> Iterator[Place]:
    for key in (*chart.rows, *(key for key in chart.tiers if key not in chart.rows)):
        prices = [(row.max_label, row.price) for row in chart.rows.get(key, ())]
        prices += [(tier.label, tier.price) for tier in chart.tiers.get(key, ())]
        if key in chart.oversized:
            prices.append((OVERSIZED, chart.oversized[key]))
        for (_, low), (label, high) in itertools.pairwise(prices):
            if high < low:
                yield key, label


def _falls_by_zone(chart: ServiceChart) -> Iterator[Place]:
    cells = cells_of(chart)
    zones = sorted((key for key in chart.rows or chart.tiers if key.isdecimal()), key=int)
    for near, far in itertools.pairwise(zones):
        for (key, weight), price in cells.items():
            if key == far and (near, weight) in cells and price < cells[near, weight]:
                yield far, weight
