"""Charts: the price list in force for a service on a day, and its group and limits for a destination."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, field
from datetime import date
from importlib.resources.abc import Traversable
from itertools import chain

from desk.domain.faults import FileFault, Unreadable
from desk.domain.money import Money, zero
from desk.domain.service import Service
from desk.rates.lists.price_list import DimensionalRule, Extra, PriceRow, ServiceChart, Surcharge

NO_VALUE = zero()

__all__ = ["Charts", "DimensionalRule", "Extra", "PriceRow", "ServiceChart", "Surcharge"]


def chart_folders(folder: Traversable) -> list[Traversable]:
    """Return the chart folders inside a folder, by name; names that begin with a dot or underscore are skipped."""
    entries = sorted(folder.iterdir(), key=lambda entry: entry.name)
    return [entry for entry in entries if entry.is_dir() and entry.name[0] not in "._"]


@dataclass(frozen=True, slots=True)
class Charts:
    """All price lists known: each service's lists, newest first, and the extras, newest first."""

    lists: Mapping[str, tuple[ServiceChart, ...]]
    extras: tuple[tuple[date, Extra], ...] = ()
    known: Mapping[str, Service] = field(default_factory=dict)  # described even where no list prices them

    @classmethod
    def read(cls, *folders: Traversable) -> Charts:
        """Read every subfolder as a chart; of two lists with the same date, the one in the later folder wins.

        Raises:
            Unreadable: with every fault of every chart, each with file and line.
        """
        from desk.rates.lists.chart_file import read_chart  # reading is needed once, at start
        from desk.rates.lists.service_facts import read_services

        faults: list[FileFault] = []
        charts: list[ServiceChart] = []
        extras: list[tuple[date, Extra]] = []
        known: dict[str, Service] = {}
        for folder in folders:
            known |= read_services(folder, faults)
        for chart in chain.from_iterable(chart_folders(folder) for folder in folders):
            read = read_chart(chart, faults, known)
            charts.extend(read.services)
            extras.extend((read.effective, extra) for extra in read.extras)
        if faults:
            raise Unreadable(faults)
        return cls.of(charts, extras, known)

    @classmethod
    def of(
        cls,
        charts: Iterable[ServiceChart],
        extras: Iterable[tuple[date, Extra]] = (),
        known: Mapping[str, Service] | None = None,
    ) -> Charts:
        """Sort the lists; of two with the same date, the later one wins."""
        lists: dict[str, list[ServiceChart]] = {}
        for chart in charts:
            lists.setdefault(chart.service, []).insert(0, chart)
        newest_first = {
            service: tuple(sorted(of_one, key=lambda chart: chart.effective, reverse=True))
            for service, of_one in lists.items()
        }
        return cls(newest_first, tuple(sorted(extras, key=lambda dated: dated[0], reverse=True)), known or {})

    def with_lists(self, charts: Iterable[ServiceChart]) -> Charts:
        """Return a copy with these lists added; of two with the same date, the added one wins."""
        held = [chart for lists in self.lists.values() for chart in reversed(lists)]
        return Charts.of([*held, *charts], self.extras, self.known)

    def of_chart(self, name: str) -> tuple[ServiceChart, ...]:
        """Return every service of the chart with that id, sorted by service id."""
        found = [chart for lists in self.lists.values() for chart in lists if chart.chart == name]
        return tuple(sorted(found, key=lambda chart: chart.service))

    def in_force(self, service: str, on: date) -> ServiceChart | None:
        """Return the newest list in force, even past its last day unless it is a season's; None before the first."""
        return next(iter(self.all_in_force(service, on)), None)

    def all_in_force(self, service: str, on: date) -> Iterator[ServiceChart]:
        """Yield the lists of a service in force on a day, newest first; older ones price what newer ones leave out."""
        return (chart.as_of(on) for chart in self.lists.get(service, ()) if chart.counts_on(on))

    def services(self) -> frozenset[str]:
        """Return every service id that some list prices."""
        return frozenset(self.lists)

    def service(self, service: str) -> Service:
        """Return a service's facts from its newest list; a plain domestic parcel when no list describes it."""
        lists = self.lists.get(service)
        return lists[0].facts if lists else self.known.get(service) or Service(id=service)

    def group(self, service: str, country: str, on: date) -> str | None:
        """Return the price group of a destination (ISO 3166); None when the list does not offer the service there."""
        chart = self.in_force(service, on)
        return chart.groups.get(country) if chart else None

    def extra(self, code: str, on: date, service: str = "", value: Money | None = None) -> Extra | None:
        """Return what an extra costs on that day by the newest list that names it, or None.

        None also when it is not sold with that service, or the list has no price for that declared value.
        """
        return next(iter(self._sold(code, on, service, value or NO_VALUE)), None)

    def extra_prices(self, code: str, on: date, service: str) -> tuple[Extra, ...]:
        """Return all prices of an extra with a service by the newest list that names it, the lowest value first."""
        return tuple(self._sold(code, on, service, NO_VALUE))

    def _sold(self, code: str, on: date, service: str, value: Money) -> list[Extra]:
        """Return the prices for that value in the newest list that names the extra, the lowest value first."""
        named = [(since, extra) for since, extra in self.extras if extra.code == code and since <= on]
        newest = max((since for since, _ in named), default=None)
        sold = [extra for since, extra in named if since == newest and extra.holds_for(service, value)]
        return sorted(sold, key=lambda extra: extra.value_max.minor if extra.value_max else 0)

    def extra_codes(self, on: date) -> frozenset[str]:
        """Return the codes of the extras that lists in force sell."""
        return frozenset(extra.code for since, extra in self.extras if since <= on)
