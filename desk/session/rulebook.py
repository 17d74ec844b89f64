"""The rulebook: everything published that decisions rest on, read once from the shipped resources."""

from __future__ import annotations

from dataclasses import dataclass
from importlib.resources.abc import Traversable

from desk.customs.destinations import Destinations
from desk.customs.hs_codes import HsCodes
from desk.domain.country import Countries
from desk.rates.lists.chart import Charts
from desk.rates.zone import Zones


@dataclass(frozen=True, slots=True)
class Rulebook:
    """Price charts, zones, countries, destination rules and HS codes."""

    charts: Charts
    zones: Zones
    countries: Countries
    destinations: Destinations
    codes: HsCodes


def read_rulebook(resources: Traversable) -> Rulebook:
    """Read the shipped rulebook; Unreadable with file and line when a chart is damaged."""
    return Rulebook(
        charts=Charts.read(resources / "charts"),
        zones=Zones.read(resources / "zones"),
        countries=Countries.read(resources / "destinations" / "countries.csv"),
        destinations=Destinations.read(resources / "destinations"),
        codes=HsCodes.read(resources / "goods"),
    )
