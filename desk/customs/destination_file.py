"""Destination lists a shop imports: rules by country, row by row, each with its date and source.

A row `list-of` with the kind of rule as its value says that the file has the whole list of that kind, and its date.
Without it, each row replaces only the rules of its kind for its country.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Sequence
from datetime import date
from decimal import Decimal, InvalidOperation

from desk.customs.destinations import ANY, LIST_OF, PARTS, Rule
from desk.customs.tax_ids import kinds
from desk.domain.faults import FileFault, Unreadable
from desk.domain.money import Money
from desk.domain.orders.customs_details import BUYER_NUMBERS
from desk.domain.places.country import Countries, fold

COLUMNS = ("country", "rule", "value", "valid_from", "valid_until", "source")
_OTHER_NAMES = {"iso2": "country", "from": "valid_from", "until": "valid_until"}
NEEDED = ("country", "rule", "source")
EXTENTS = ("all", "all except letters", "express only")
_COUNTED = ("consignment", "each item", "below, each item")
SELLER_NUMBERS = frozenset(kinds()) - BUYER_NUMBERS
# Rules a shop may renew, with the format of their values.
VALUES = {
    "suspended": f"one of {', '.join(EXTENTS)}",
    "barred": "nothing",
    "import-limit": "a limit such as EUR 150|consignment",
    "seller-number": "a number and a limit such as ioss|EUR 150|consignment",
    "seller-number-if-registered": "a number and a limit such as au_arn|AUD 1000|consignment",
    "buyer-number": f"one or more of {', '.join(sorted(BUYER_NUMBERS))}, joined by ' or '",
    "duty-per-code": "the duty and its limit, such as EUR 3|EUR 150",
}
_AMOUNT = re.compile(r"[A-Z]{3} [0-9]{1,9}([.][0-9]{1,2})?")
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
    if _place(row["country"], kind, countries) is None:
        faults.append(("country", "a country, by its English name or its code of two letters"))
    if kind == LIST_OF and value not in VALUES:
        faults.append(("value", f"one of {', '.join(VALUES)}"))
    elif kind not in (*VALUES, LIST_OF):
        faults.append(("rule", f"one of {', '.join((*VALUES, LIST_OF))}"))
    elif kind in VALUES and not _fits(kind, value):
        faults.append(("value", VALUES[kind]))
    if not row["source"]:
        faults.append(("source", "where this comes from, such as the post's alert with its date"))
    return [*faults, *_day_faults(row, kind)]


def _day_faults(row: dict[str, str], kind: str) -> list[tuple[str, str]]:
    faults = [(name, "a date such as 2026-11-25") for name in ("valid_from", "valid_until") if not _is_day(row, name)]
    if not row.get("valid_from") and kind in ("suspended", LIST_OF):
        faults.append(("valid_from", "the date of the alert" if kind == "suspended" else "the date of the list"))
    first, last = row.get("valid_from"), row.get("valid_until")
    if not faults and first and last and date.fromisoformat(last) <= date.fromisoformat(first):
        faults.append(("valid_until", f"a day after {first}, where it starts; or leave it empty"))
    return faults


def _place(text: str, kind: str, countries: Countries) -> str | None:
    """Return the code of a place: a country, a part of one with rules of its own, or `*` for a whole list."""
    if kind == LIST_OF and text in ("", ANY):
        return ANY
    return text if text in PARTS else countries.find(text)


def _fits(kind: str, value: str) -> bool:
    if kind == "suspended":
        return value.casefold() in ("", *EXTENTS)
    if kind == "barred":
        return not value
    if kind == "buyer-number":
        return all(one in BUYER_NUMBERS for one in value.split(" or "))
    first, _, rest = value.partition("|")
    if kind == "duty-per-code":
        return _is_amount(first) and _is_amount(rest)
    return first in SELLER_NUMBERS and _is_limit(rest) if kind.startswith("seller-number") else _is_limit(value)


def _is_limit(text: str) -> bool:
    limit, _, counting = text.partition("|")
    return counting in _COUNTED and _is_amount(limit)


def _is_amount(text: str) -> bool:
    if not _AMOUNT.fullmatch(text):
        return False
    try:
        Money.of(Decimal(text[4:]), text[:3])
    except (ValueError, InvalidOperation):
        return False
    return True


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
        _place(row["country"], kind, countries) or "",
        kind,
        value,
        days[0],
        days[1],
        row["source"],
        "imported by the shop",
    )
