"""Shared by the tests of price lists: the shipped lists, and a small invented list in grams and another currency."""

from functools import cache
from pathlib import Path

from desk.rates.lists.chart import Charts
from desk.rates.zone import Zones

RESOURCES = Path(__file__).parents[2] / "resources"

# An invented post, so that the reader does not depend on the rules of one country.
HEAD = """\
effective = 2026-03-01
currency = "EUR"
unit = "g"
source = "invented list"
known_by = "invented"

[services.brief]
shapes = ["letter"]
max_weight = "500"

[services.pakje]
until = 2026-06-30
shapes = ["flat", "parcel"]
keyed_by = "group"
group_column = "parcels"
max_weight_column = "limit_lb"
"""
CELLS = """\
service,weight_max,key,price
brief,20,,1.15
brief,50,,2.30
brief,350,,3.45
pakje,2000,1,12.00
pakje,2000,2-3,15.50
pakje,5000,1,14.00
pakje,5000,2-3,19.95
pakje,oversized,1,80.00
"""
GROUPS = """\
country,parent,parcels,limit_lb
BE,,1,44
FR,,2,66
MC,FR,,
SO,,,
"""


@cache
def shipped() -> Charts:
    """Return the shipped price lists, read once for all tests."""
    return Charts.read(RESOURCES / "charts")


@cache
def shipped_zones() -> Zones:
    """Return the shipped zone matrix, read once for all tests."""
    return Zones.read(RESOURCES / "zones")


def write_chart(folder: Path, head: str = HEAD, cells: str = CELLS, groups: str | None = GROUPS) -> Path:
    """Write the chart folder `xx-2026` under `folder` and return `folder`."""
    chart = folder / "xx-2026"
    chart.mkdir()
    (chart / "chart.toml").write_text(head, encoding="utf-8")
    (chart / "cells.csv").write_text(cells, encoding="utf-8")
    if groups is not None:
        (chart / "groups.csv").write_text(groups, encoding="utf-8")
    return folder
