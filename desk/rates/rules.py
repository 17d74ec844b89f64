"""Price rules of a day: price lists, zones and the shop's policy, with cached lookups."""

from __future__ import annotations

from collections.abc import Hashable
from dataclasses import dataclass, field
from datetime import date
from decimal import Decimal
from typing import Any  # records of a module that imports this one

from desk.domain.exchange import converted
from desk.domain.finding import Finding
from desk.domain.money import Money
from desk.domain.service import Service
from desk.domain.shop.shop import ExchangeRate, Policy
from desk.rates.lists.chart import Charts
from desk.rates.lists.price_list import ServiceChart
from desk.rates.zone import Zones


@dataclass(frozen=True, slots=True)
class ServiceOut:
    """A service that is ruled out, and why."""

    service: str
    reason: Finding


@dataclass(frozen=True, slots=True)
class PriceRules:
    """What decides a price besides the piece. `tolerance_scale` lowers the scale's tolerance after a recent check."""

    charts: Charts
    zones: Zones
    policy: Policy
    on: date
    tolerance_scale: Decimal = Decimal(1)
    rates: tuple[ExchangeRate, ...] = ()  # the shop's own, for limits in another currency than the goods
    kept: dict[Hashable, tuple[ServiceOut, ...]] = field(default_factory=dict, init=False, repr=False, compare=False)
    # cases of case.py, which imports this module
    opened: dict[Hashable, Any] = field(default_factory=dict, init=False, repr=False, compare=False)
    _facts: dict[str, Service] = field(default_factory=dict, init=False, repr=False, compare=False)
    _seen: dict[str, tuple[ServiceChart, ...]] = field(default_factory=dict, init=False, repr=False, compare=False)
    _services: list[str] = field(default_factory=list, init=False, repr=False, compare=False)
    _value_limits: list[Money] = field(default_factory=list, init=False, repr=False, compare=False)

    def chart(self, service: str) -> ServiceChart | None:
        """Return the list in force for a service on the mailing date, or None."""
        return next(iter(self.lists(service)), None)

    def lists(self, service: str) -> tuple[ServiceChart, ...]:
        """Return the lists of a service on the mailing date, newest first; older ones price what it leaves out."""
        if service not in self._seen:
            self._seen[service] = tuple(self.charts.all_in_force(service, self.on))
        return self._seen[service]

    def service(self, service: str) -> Service:
        """Return a service's facts from the list in force, else from any list."""
        if service not in self._facts:
            chart = self.chart(service)
            self._facts[service] = chart.facts if chart is not None else self.charts.service(service)
        return self._facts[service]

    def services(self) -> list[str]:
        """Return every service with a list, sorted by id."""
        if not self._services:
            self._services.extend(sorted(self.charts.services()))
        return self._services

    def is_over(self, value: Money, limit: Money) -> bool | None:
        """Return whether a value is over a limit, by a dated rate; None where no rate settles it, unless it is zero."""
        if not value:
            return False
        if value.currency == limit.currency:
            return value.minor > limit.minor
        there = converted(value, limit.currency, self.rates)
        return None if there is None else there.is_over(limit)

    def value_limits(self) -> list[Money]:
        """Return every value limit that a list in force sets."""
        if not self._value_limits:
            charts = [self.chart(service) for service in self.services()]
            limits = {chart.max_value for chart in charts if chart is not None and chart.max_value is not None}
            self._value_limits.extend(sorted(limits, key=lambda limit: (limit.currency, limit.minor)))
        return self._value_limits
