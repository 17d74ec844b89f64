"""The rulebook: the published rules and prices that decisions rest on, read once from the shipped resources."""

from __future__ import annotations

from dataclasses import dataclass, replace
from importlib.resources.abc import Traversable
from pathlib import Path

from desk.customs.destinations import Destinations
from desk.customs.exchange_rates import read_rough_rates
from desk.customs.hs_codes import HsCodes
from desk.domain.faults import Unreadable
from desk.domain.places.country import Countries
from desk.domain.shop.shop import ExchangeRate
from desk.rates.lists.chart import Charts
from desk.rates.lists.zone_file import ZoneRows, known_headings, zone_rows
from desk.rates.zone import Zones


@dataclass(frozen=True, slots=True)
class Rulebook:
    """Price lists, zones, countries, destination rules, HS codes, and rough exchange rates."""

    charts: Charts
    zones: Zones
    countries: Countries
    destinations: Destinations
    codes: HsCodes
    rates: tuple[ExchangeRate, ...] = ()


def read_rulebook(resources: Traversable) -> Rulebook:
    """Read the shipped rulebook; Unreadable with file and line when a chart is damaged."""
    return Rulebook(
        charts=Charts.read(resources / "charts"),
        zones=Zones.read(resources / "zones"),
        countries=Countries.read(
            resources / "destinations" / "countries.csv", resources / "destinations" / "country-names.csv"
        ),
        destinations=Destinations.read(resources / "destinations"),
        codes=HsCodes.read(resources / "goods"),
        rates=read_rough_rates(resources / "destinations" / "rates.csv"),
    )


def read_zone_chart(path: Path) -> ZoneRows:
    """Read the post's zone chart for one prefix from CSV, TSV, XLSX or ODS, with titles above its heading.

    Raises:
        Unreadable: with every fault of the file.
    """
    from desk.intake.columns.sheet import read_sheet  # imported only when a zone chart is

    try:
        sheet = read_sheet(path, known=known_headings)
        lines = [(row.line, row.cells) for row in sheet.rows]
        return zone_rows(path.name, (sheet.header_line, sheet.header), lines)
    except Unreadable as unreadable:
        raise Unreadable([replace(fault, file=path.name) for fault in unreadable.faults]) from None
