"""Destination lists a shop imports: suspensions, bans and limits by country, row by row, each with its date and source."""

from __future__ import annotations

import re
from collections.abc import Iterable, Sequence
from datetime import date
from decimal import Decimal, InvalidOperation

from desk.customs.destinations import Rule
from desk.domain.faults import FileFault, Unreadable
from desk.domain.money import Money
from desk.domain.places.country import Countries, fold

COLUMNS = ("country", "rule", "value", "valid_from", "valid_until", "source")
_OTHER_NAMES = {"iso2": "country", "from": "valid_from", "until": "valid_until"}
NEEDED = ("country", "rule", "source")
EXTENTS = ("all", "all except letters", "express only")
_COUNTED = ("consignment", "each item", "below, each item")
# Rules a shop may renew, with the format of their values.
VALUES = {
    "suspended": f"one of {', '.join(EXTENTS)}",
    "barred": "nothing",
    "import-limit": "a limit such as EUR 150|consignment",
}
Lines = Iterable[tuple[int, Sequence[str]]]


def known_columns(cells: Sequence[str]) -> int:
    """Return how many cells are headers of such a list."""
    return sum(_name(cell) in COLUMNS for cell in cells)


def read_rules(file: str, header: tuple[int, Sequence[str]], lines: Lines, countries: Countries) -> tuple[Rule, ...]:
    """Return the rules of a list.

    Raises:
        Unreadable: with every fault, by file, line and column.
    """
    names = [_name(cell) for cell in header[1]]
    faults = [
        FileFault(file, header[0], name, "", f"a column {name}; the columns are {', '.join(COLUMNS)}")
        for name in NEEDED
        if name not in names
    ]
    if faults:
        raise Unreadable(faults)
    rules = []
    for line, cells in lines:
        row = dict.fromkeys(names, "") | {name: cell.strip() for name, cell in zip(names, cells, strict=False)}
        wrong = _faults(row, countries)
        faults += [FileFault(file, line, column, row.get(column, ""), expected) for column, expected in wrong]
        if not wrong:
            rules.append(_rule(row, countries))
    if not rules and not faults:
        faults.append(FileFault(file, header[0], "", "", "at least one row below the header"))
    if faults:
        raise Unreadable(faults)
    return tuple(rules)


def _name(cell: str) -> str:
    name = fold(cell.replace("_", " ")).replace(" ", "_")
    return _OTHER_NAMES.get(name, name)


def _faults(row: dict[str, str], countries: Countries) -> list[tuple[str, str]]:
    kind, value = row["rule"].casefold(), row.get("value", "")
    faults = []
    if countries.find(row["country"]) is None:
        faults.append(("country", "a country, by its English name or its code of two letters"))
    if kind not in VALUES:
        faults.append(("rule", f"one of {', '.join(VALUES)}"))
    elif not _fits(kind, value):
        faults.append(("value", VALUES[kind]))
    if not row["source"]:
        faults.append(("source", "where this comes from, such as the post's alert with its date"))
    faults += [(name, "a date such as 2026-11-25") for name in ("valid_from", "valid_until") if not _is_day(row, name)]
    if kind == "suspended" and not row.get("valid_from"):
        faults.append(("valid_from", "the date of the alert"))
    return faults


def _fits(kind: str, value: str) -> bool:
    if kind == "suspended":
        return value.casefold() in ("", *EXTENTS)
    if kind == "barred":
        return not value
    limit, _, counting = value.partition("|")
    if counting not in _COUNTED or not re.fullmatch(r"[A-Z]{3} [0-9]{1,9}([.][0-9]{1,2})?", limit):
        return False
    try:
        return Money.of(Decimal(limit[4:]), limit[:3]).minor >= 0
    except (ValueError, InvalidOperation):
        return False


def _is_day(row: dict[str, str], name: str) -> bool:
    try:
        date.fromisoformat(row.get(name) or "2000-01-01")
    except ValueError:
        return False
    return True


def _rule(row: dict[str, str], countries: Countries) -> Rule:
    kind = row["rule"].casefold()
    value = row.get("value", "").casefold() or "all" if kind == "suspended" else row.get("value", "")
    days = [date.fromisoformat(row[name]) if row.get(name) else None for name in ("valid_from", "valid_until")]
    return Rule(
        countries.find(row["country"]) or "", kind, value, days[0], days[1], row["source"], "imported by the shop"
    )
