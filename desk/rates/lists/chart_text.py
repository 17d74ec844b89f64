"""Write lists as the files of a chart folder, which `chart_file` reads back unchanged."""

from __future__ import annotations

import csv
import io
import json
from collections.abc import Iterable, Iterator, Sequence
from datetime import date
from decimal import Decimal

from desk.domain.weight import Weight, WeightUnit
from desk.rates.lists.cells_file import COLUMNS
from desk.rates.lists.chart_compare import cells_of
from desk.rates.lists.chart_file import GROUPS, HEAD
from desk.rates.lists.price_list import DimensionalRule, ServiceChart, Surcharge
from desk.rates.lists.service_facts import facts_text

CELLS = "cells.csv"


def chart_texts(lists: Sequence[ServiceChart]) -> dict[str, str]:
    """Return file name to text.

    Raises:
        ValueError: the lists differ in first day, currency or unit.
    """
    if len({(chart.effective, chart.currency, chart.bills_in) for chart in lists}) != 1:
        raise ValueError("lists of one folder have one first day, one currency and one unit")
    texts = {HEAD: "\n".join(_head(lists)) + "\n", CELLS: _table(COLUMNS, _cells(lists))}
    grouped = [chart for chart in lists if chart.keyed_by == "group"]
    return texts | ({GROUPS: _groups(grouped)} if grouped else {})


def _head(lists: Sequence[ServiceChart]) -> Iterator[str]:
    first = lists[0]
    yield f"effective = {first.effective.isoformat()}"
    yield f"currency = {_text(first.currency)}"
    yield f"unit = {_text(first.bills_in.value)}"
    yield f"source = {_text(first.source)}"
    yield f"known_by = {_text(first.known_by)}"
    rules: dict[date, DimensionalRule] = {rule.since: rule for chart in lists for rule in chart.dimensional_rules}
    for rule in rules.values():
        yield from ("", "[[dimensional]]", *_rule(rule))
    for chart in lists:
        yield from ("", f"[services.{chart.service}]", *_service(chart))


def _rule(rule: DimensionalRule) -> Iterator[str]:
    yield f"since = {rule.since.isoformat()}"
    yield f"over_cubic_inches = {_text(_plain(rule.over_cubic_inches))}"
    yield f"divisor = {_text(_plain(rule.divisor))}"
    yield f"rounding = {_text(rule.rounding)}"
    yield f"source = {_text(rule.source)}"
    yield f"known_by = {_text(rule.known_by)}"


def _service(chart: ServiceChart) -> Iterator[str]:
    yield from facts_text(chart.facts)
    yield f"shapes = [{', '.join(_text(shape) for shape in sorted(chart.shapes))}]"
    yield f"source = {_text(chart.source)}"
    yield f"known_by = {_text(chart.known_by)}"
    if chart.until:
        yield f"until = {chart.until.isoformat()}"
    if chart.keyed_by:
        yield f"keyed_by = {_text(chart.keyed_by)}"
    if chart.keyed_by == "group":
        yield f"group_column = {_text(chart.service)}"
    if chart.country_limits:
        yield f"max_weight_column = {_text(_limit_column(chart))}"
    if chart.max_weight:
        yield f"max_weight = {_text(_plain(chart.max_weight.in_unit(chart.bills_in)))}"
    if chart.max_value:
        yield f"max_value = {_text(chart.max_value.text())}"
    flags = (("flat_rate", chart.flat_rate), ("dimensional", bool(chart.dimensional_rules)), ("season", chart.season))
    yield from (f"{name} = true" for name, is_so in flags if is_so)
    if not chart.fees_listed:
        yield "fees_listed = false"
    if chart.surcharges:
        yield f"surcharges = [{', '.join(_surcharge(fee) for fee in chart.surcharges)}]"


def _surcharge(fee: Surcharge) -> str:
    return (
        f"{{ code = {_text(fee.code)}, amount = {_text(fee.amount.text())}, "
        f"source = {_text(fee.source)}, known_by = {_text(fee.known_by)} }}"
    )


def _cells(lists: Iterable[ServiceChart]) -> Iterator[Sequence[str]]:
    for chart in lists:
        for (key, weight), price in cells_of(chart).items():
            yield chart.service, weight, key, price.text()


def _groups(lists: Sequence[ServiceChart]) -> str:
    columns = ["country", "parent"]
    for chart in lists:
        columns += [chart.service, *([_limit_column(chart)] if chart.country_limits else [])]
    countries = sorted({country for chart in lists for country in (*chart.groups, *chart.country_limits)})
    return _table(columns, (_country(country, lists) for country in countries))


def _country(country: str, lists: Sequence[ServiceChart]) -> list[str]:
    cells = [country, ""]
    for chart in lists:
        cells.append(chart.groups.get(country, ""))
        if chart.country_limits:
            cells.append(_pounds(chart.country_limits.get(country)))
    return cells


def _limit_column(chart: ServiceChart) -> str:
    return f"{chart.service} limit"


def _pounds(weight: Weight | None) -> str:
    return _plain(weight.in_unit(WeightUnit.POUND)) if weight else ""


def _table(columns: Sequence[str], rows: Iterable[Sequence[str]]) -> str:
    out = io.StringIO()
    writer = csv.writer(out, lineterminator="\n")
    writer.writerow(columns)
    writer.writerows(rows)
    return out.getvalue()


def _text(text: str) -> str:
    return json.dumps(text, ensure_ascii=False)


def _plain(number: Decimal) -> str:
    return f"{number.normalize():f}"
