"""Chart file: read one folder under resources/charts, its head and its cells, into price lists.

The format is described in resources/charts/README.md. We read it without pydantic: charts are read at every run, and
the import alone would cost more than the reading.
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date
from importlib.resources.abc import Traversable
from pathlib import Path
from typing import TypeVar

from desk.domain.faults import FileFault, Unreadable
from desk.domain.money import Money
from desk.domain.service import Service
from desk.domain.weight import Weight, WeightUnit
from desk.rates.lists.cells_file import Cells, Groups, read_cells, read_groups, table_file
from desk.rates.lists.extras_file import EXTRAS, read_extras
from desk.rates.lists.head_table import PLAIN_NUMBER, HeadTable
from desk.rates.lists.price_list import DimensionalRule, Extra, ServiceChart, Surcharge
from desk.rates.lists.service_facts import facts_by_shape, take_facts
from desk.tables.lines import SUFFIXES
from desk.tables.toml_text import parse_toml

HEAD = "chart.toml"
GROUPS = "groups.csv"
SHAPES = ("letter", "flat", "parcel", "postcard")
FEES = ("nonmachinable", "long-22", "long-30", "bulky", "tube")
Fee = TypeVar("Fee", Surcharge, Extra)


@dataclass(frozen=True, slots=True)
class ChartFolder:
    """What one folder contains."""

    effective: date
    services: tuple[ServiceChart, ...]
    extras: tuple[Extra, ...]


@dataclass(frozen=True, slots=True)
class _Whole:
    """What the head gives for all services of the folder."""

    chart: str
    effective: date
    currency: str
    unit: WeightUnit
    source: str
    known_by: str
    rules: tuple[DimensionalRule, ...]
    groups: Groups
    cells: Mapping[str, Cells]
    known: Mapping[str, Service]


def read_chart(folder: Traversable, faults: list[FileFault], known: Mapping[str, Service] | None = None) -> ChartFolder:
    """Read one folder; errors go to `faults`, and then the result must not be used.

    `known` holds services whose facts the folder need not repeat.
    """
    head = _head(folder, faults)
    if head is None:
        return ChartFolder(date.min, (), ())
    effective = head.day("effective")
    if effective is None:
        head.refuse("effective", "", "the first day of the list")
    currency = head.needed_text("currency")
    if not re.fullmatch(r"[A-Z]{3}", currency):
        head.refuse("currency", currency, "an ISO 4217 code such as USD")
    unit = WeightUnit(head.one_of("unit", ("oz", "g"), "oz"))
    source, known_by = head.needed_text("source"), head.needed_text("known_by")
    whole = _Whole(
        chart=folder.name,
        effective=effective or date.min,
        currency=currency,
        unit=unit,
        source=source,
        known_by=known_by,
        rules=tuple(_rule(table) for table in head.tables("dimensional")),
        groups=_groups(folder, faults),
        cells=read_cells(_cell_files(folder), unit, currency, faults),
        known=known or {},
    )
    extras = tuple(_fee(Extra, table, whole) for table in head.tables("extras"))
    extras += read_extras(folder, currency, source, known_by, faults)
    services = _services(head, whole)
    head.close()
    return ChartFolder(whole.effective, services, extras)


def _head(folder: Traversable, faults: list[FileFault]) -> HeadTable | None:
    name = f"{folder.name}/{HEAD}"
    try:
        values, keys = parse_toml((folder / HEAD).read_bytes(), name)
        return HeadTable(name, keys, values, faults)
    except FileNotFoundError:
        faults.append(FileFault(name, 0, "", "", "a head file in every chart folder"))
    except Unreadable as fault:
        faults.extend(fault.faults)
    return None


def _cell_files(folder: Traversable) -> list[tuple[str, Traversable]]:
    files = sorted((file for file in folder.iterdir() if file.name.endswith(SUFFIXES)), key=lambda file: file.name)
    others = (Path(GROUPS).stem, Path(EXTRAS).stem)
    return [(f"{folder.name}/{file.name}", file) for file in files if Path(file.name).stem not in others]


def _groups(folder: Traversable, faults: list[FileFault]) -> Groups:
    file = table_file(folder, GROUPS)
    name = f"{folder.name}/{file.name}"
    return read_groups(file, name, faults) if file.is_file() else Groups(name, {})


def _rule(table: HeadTable) -> DimensionalRule:
    since = table.day("since")
    if since is None:
        table.refuse("since", "", "the first day of the rule")
    rule = DimensionalRule(
        since=since or date.min,
        over_cubic_inches=table.needed_number("over_cubic_inches"),
        divisor=table.needed_number("divisor"),
        rounding=table.one_of("rounding", ("nearest", "up"), "up"),
        source=table.needed_text("source"),
        known_by=table.needed_text("known_by"),
    )
    table.close()
    return rule


def _fee(kind: type[Fee], table: HeadTable, whole: _Whole) -> Fee:
    code = table.one_of("code", FEES, FEES[0]) if kind is Surcharge else table.needed_text("code")
    amount = table.amount("amount", whole.currency)
    if amount is None:
        table.refuse("amount", "", "an amount")
    fee = kind(
        code=code,
        amount=amount or Money(0, whole.currency),
        source=table.text("source", whole.source),
        known_by=table.text("known_by", whole.known_by),
    )
    table.close()
    return fee


def _services(head: HeadTable, whole: _Whole) -> tuple[ServiceChart, ...]:
    tables = head.named_tables("services")
    charts = [_service(service, table, whole) for service, table in tables.items()]
    for service, cells in whole.cells.items():
        if service not in tables:
            file, line = next(iter(cells.begins.values()), (head.file, 0))
            head.faults.append(FileFault(file, line, "service", service, f"a service that {HEAD} describes"))
    return tuple(charts)


def _service(service: str, table: HeadTable, whole: _Whole) -> ServiceChart:
    cells = whole.cells.get(service, Cells())
    if not (cells.rows or cells.tiers):
        table.refuse("service", service, "rows of this service in a CSV file of the folder")
    keyed_by = table.one_of("keyed_by", ("", "zone", "group"), "")
    _check_keys(cells, keyed_by, table)
    table.faults.extend(cells.holes(may_end_early=keyed_by == "group"))
    groups = _column(table, "group_column", whole.groups)
    if (keyed_by == "group") != bool(groups):
        table.refuse("group_column", "", "a group_column with groups, exactly when keyed_by is group")
    limit = table.number("max_weight")
    until = table.day("until")
    if until is not None and until < whole.effective:
        table.refuse("until", until, f"a day from {whole.effective} on, the first day of the list")
    dimensional = table.flag("dimensional", default=False)
    shapes = table.words("shapes", SHAPES)
    otherwise = whole.known.get(service) or facts_by_shape(service, shapes, keyed_by)
    chart = ServiceChart(
        service=service,
        facts=take_facts(table, otherwise, whole.currency),
        chart=whole.chart,
        effective=whole.effective,
        until=until,
        source=table.text("source", whole.source),
        known_by=table.text("known_by", whole.known_by),
        currency=whole.currency,
        shapes=shapes,
        keyed_by=keyed_by,
        bills_in=whole.unit,
        max_weight=Weight.of(limit, whole.unit) if limit else None,
        max_value=table.amount("max_value", whole.currency),
        flat_rate=table.flag("flat_rate", default=False),
        fees_listed=table.flag("fees_listed", default=True),
        surcharges=tuple(_fee(Surcharge, fee, whole) for fee in table.tables("surcharges")),
        dimensional=None,
        dimensional_rules=whole.rules if dimensional else (),
        rows={key: tuple(rows) for key, rows in cells.rows.items()},
        oversized=cells.oversized,
        tiers={key: tuple(tiers) for key, tiers in cells.tiers.items()},
        season=table.flag("season", default=False),
        groups=groups,
        country_limits=_limits(table, whole.groups),
    )
    _check_groups(chart, whole, table)
    table.close()
    return chart


def _check_keys(cells: Cells, keyed_by: str, table: HeadTable) -> None:
    for key, (file, line) in cells.begins.items():
        if bool(key) != bool(keyed_by):
            expected = f"a {keyed_by}" if keyed_by else "no key: the service is not keyed_by anything"
            table.faults.append(FileFault(file, line, "key", key, expected))


def _check_groups(chart: ServiceChart, whole: _Whole, table: HeadTable) -> None:
    for group in sorted(set(chart.groups.values()) - set(chart.rows)):
        table.faults.append(
            FileFault(whole.groups.name, 0, "", group, f"only groups that {chart.service} has rows for")
        )


def _column(table: HeadTable, name: str, groups: Groups) -> Mapping[str, str]:
    column = table.text(name)
    if not column:
        return {}
    cells = groups.column(column)
    if cells is None:
        table.refuse(name, column, f"a column of {groups.name}")
    return cells or {}


def _limits(table: HeadTable, groups: Groups) -> Mapping[str, Weight]:
    limits = {}
    for country, pounds in _column(table, "max_weight_column", groups).items():
        if PLAIN_NUMBER.fullmatch(pounds):
            limits[country] = Weight.of(pounds, WeightUnit.POUND)
        else:
            table.faults.append(FileFault(groups.name, 0, country, pounds, "a limit in whole pounds"))
    return limits
