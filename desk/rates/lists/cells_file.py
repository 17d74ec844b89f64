"""Cells file: the CSV files of a chart, with prices by service, weight and key, and countries by price group."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from decimal import Decimal
from functools import cache
from importlib.resources.abc import Traversable
from pathlib import Path

from desk.domain.faults import FileFault, Unreadable
from desk.domain.money import Money
from desk.domain.weight import NOTHING, Weight, WeightUnit
from desk.rates.lists.head_table import PLAIN_NUMBER
from desk.rates.lists.price_list import CubicTier, PriceRow
from desk.tables.lines import SUFFIXES, Lines, numbered_rows

COLUMNS = ["service", "weight_max", "key", "price"]
OVERSIZED = "oversized"
_CUBIC = re.compile(r"([0-9](?:\.[0-9]{1,4})?) cu ft")
_KEY = re.compile(r"[A-Za-z0-9]*|([0-9]{1,3})-([0-9]{1,3})")


@dataclass(slots=True)
class Cells:
    """The cells of one service: rows, tiers and oversized prices by key, and the line where each key begins."""

    rows: dict[str, list[PriceRow]] = field(default_factory=dict)
    tiers: dict[str, list[CubicTier]] = field(default_factory=dict)
    oversized: dict[str, Money] = field(default_factory=dict)
    begins: dict[str, tuple[str, int]] = field(default_factory=dict)
    unread: bool = False  # a cell could not be read, so a missing row would be the same error again

    def holes(self, *, may_end_early: bool) -> Iterator[FileFault]:
        """Yield a fault for each weight that one key has and another lacks.

        With `may_end_early` a key may stop before the others: mail to some countries has a lower weight limit.
        """
        if self.unread:
            return
        steps = sorted({(row.max_weight, row.max_label) for rows in self.rows.values() for row in rows})
        for key, rows in self.rows.items():
            has = {row.max_weight for row in rows}
            last = rows[-1].max_weight
            for weight, label in steps:
                if weight not in has and not (may_end_early and weight > last):
                    yield FileFault(*self.begins[key], "weight_max", "", f"a row up to {label} for key {key or 'none'}")


@dataclass(frozen=True, slots=True)
class _Line:
    """One line of a cells file, with what an error message about it needs."""

    file: str
    number: int
    service: str
    weight: str
    key: str
    price: str

    def fault(self, column: str, found: str, expected: str) -> FileFault:
        return FileFault(self.file, self.number, column, found, expected)


def table_file(folder: Traversable, name: str) -> Traversable:
    """Return the table of that name, or the workbook that is there in its place."""
    stem = Path(name).stem
    files = (folder / f"{stem}{suffix}" for suffix in SUFFIXES)
    return next((file for file in files if file.is_file()), folder / name)


def table_rows(file: Traversable, name: str, faults: list[FileFault]) -> Lines:
    """Return the numbered rows of a table, heading first; empty, with its faults, when it cannot be read."""
    try:
        return numbered_rows(file, name)
    except Unreadable as fault:
        faults.extend(fault.faults)
        return []


def read_cells(
    files: Iterable[tuple[str, Traversable]], unit: WeightUnit, currency: str, faults: list[FileFault]
) -> Mapping[str, Cells]:
    """Return the cells of all files by service, weights in `unit`, prices in `currency`; faults are collected."""
    return _cells((line for name, file in files for line in _lines(name, file, faults)), unit, currency, faults)


def cells_of_rows(
    name: str, rows: Iterable[tuple[int, Sequence[str]]], unit: WeightUnit, currency: str, faults: list[FileFault]
) -> Mapping[str, Cells]:
    """Return the cells by service from rows already read: line number, then service, weight, key and price."""
    return _cells((_Line(name, number, *cells) for number, cells in rows), unit, currency, faults)


def _cells(lines: Iterable[_Line], unit: WeightUnit, currency: str, faults: list[FileFault]) -> Mapping[str, Cells]:
    cells: dict[str, Cells] = {}
    for line in lines:
        price = _price(line, currency, faults)
        weight = _weight(line, unit, faults)
        of_service = cells.setdefault(line.service, Cells())
        if price is None or weight is None:
            of_service.unread = True
            continue
        for key in _keys(line.key):
            _put(of_service, line, key, PriceRow(weight, line.weight, price), faults)
    return cells


def _lines(name: str, file: Traversable, faults: list[FileFault]) -> Iterator[_Line]:
    found: list[FileFault] = []
    lines = table_rows(file, name, found)
    if not lines or lines[0][1] != COLUMNS:
        heading = ",".join(lines[0][1]) if lines else ""
        faults.extend(found or [FileFault(name, 1, "", heading, f"the heading {','.join(COLUMNS)}")])
        return
    for number, cells in lines[1:]:
        if len(cells) == len(COLUMNS):
            yield _Line(name, number, *cells)
        else:
            faults.append(FileFault(name, number, "", ",".join(cells), "four cells; a price has no comma"))


def _price(line: _Line, currency: str, faults: list[FileFault]) -> Money | None:
    try:
        if PLAIN_NUMBER.fullmatch(line.price):
            return Money.of(line.price, currency)
    except ValueError:
        pass  # more decimals than the currency has
    faults.append(line.fault("price", line.price, f"an amount of {currency} in plain digits, such as 7.90"))
    return None


def _weight(line: _Line, unit: WeightUnit, faults: list[FileFault]) -> Weight | None:
    """Return the upper weight; `NOTHING` for the oversized row and for steps by size."""
    key = _KEY.fullmatch(line.key)
    if key is None or (key[1] and int(key[1]) >= int(key[2])):
        faults.append(line.fault("key", line.key, "a zone, a price group, a range such as 3-5, or nothing"))
        return None
    if line.weight == OVERSIZED or _CUBIC.fullmatch(line.weight):
        return NOTHING
    if PLAIN_NUMBER.fullmatch(line.weight) and (weight := _weighed(line.weight, unit)):
        return weight
    faults.append(
        line.fault(
            "weight_max", line.weight, f"a weight in {unit} above zero, {OVERSIZED}, or a volume such as 0.10 cu ft"
        )
    )
    return None


@cache  # saves 7 ms at each start
def _weighed(label: str, unit: WeightUnit) -> Weight:
    return Weight.of(label, unit)  # a list repeats the same few weights


def _keys(typed: str) -> Iterable[str]:
    first, dash, last = typed.partition("-")
    return [str(number) for number in range(int(first), int(last) + 1)] if dash else [typed]


def _put(cells: Cells, line: _Line, key: str, row: PriceRow, faults: list[FileFault]) -> None:
    if line.weight == OVERSIZED:
        if key in cells.oversized:
            faults.append(line.fault("weight_max", OVERSIZED, f"one oversized price for key {key}"))
        cells.oversized[key] = row.price
        return
    if volume := _CUBIC.fullmatch(line.weight):
        _put_tier(cells, line, key, CubicTier(Decimal(volume[1]), line.weight, row.price), faults)
        return
    rows = cells.rows.setdefault(key, [])
    if rows and row.max_weight <= rows[-1].max_weight:
        expected = f"a weight above {rows[-1].max_label}, the row before it for this key; rows do not overlap"
        faults.append(line.fault("weight_max", line.weight, expected))
        return
    cells.begins.setdefault(key, (line.file, line.number))
    rows.append(row)


def _put_tier(cells: Cells, line: _Line, key: str, tier: CubicTier, faults: list[FileFault]) -> None:
    tiers = cells.tiers.setdefault(key, [])
    if tiers and tier.most_cubic_feet <= tiers[-1].most_cubic_feet:
        faults.append(line.fault("weight_max", line.weight, f"a volume above {tiers[-1].label}, the one before it"))
        return
    cells.begins.setdefault(key, (line.file, line.number))
    tiers.append(tier)


@dataclass(frozen=True, slots=True)
class Groups:
    """The countries of a list: each column maps country to cell; a country with a parent uses the parent's cells."""

    name: str
    columns: Mapping[str, Mapping[str, str]]

    def column(self, name: str) -> Mapping[str, str] | None:
        """Return country to cell, without empty cells; None when there is no such column."""
        return self.columns.get(name)


def read_groups(file: Traversable, name: str, faults: list[FileFault]) -> Groups:
    """Read a file with the columns country, parent, and any others; every parent must be a country of the file."""
    found: list[FileFault] = []
    lines = table_rows(file, name, found)
    heading = lines[0][1] if lines else []
    if heading[:2] != ["country", "parent"]:
        faults.extend(found or [FileFault(name, 1, "", ",".join(heading), "a heading that begins country,parent")])
        return Groups(name, {})
    by_country = {cells[0]: (number, cells) for number, cells in lines[1:]}
    for number, cells in lines[1:]:
        if len(cells) != len(heading) or by_country[cells[0]][0] != number:
            found.append(FileFault(name, number, "country", cells[0], f"{len(heading)} cells, once for a country"))
        elif cells[1] and cells[1] not in by_country:
            found.append(FileFault(name, number, "parent", cells[1], "a country of this file"))
    faults.extend(found)
    if found:
        return Groups(name, {})
    owners = {country: by_country[cells[1] or country][1] for country, (_, cells) in by_country.items()}
    columns = {
        column: {country: cells[place] for country, cells in owners.items() if cells[place]}
        for place, column in enumerate(heading)
    }
    return Groups(name, columns)
