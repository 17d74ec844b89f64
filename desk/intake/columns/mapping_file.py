"""A saved mapping (TOML): which header of a shop's order list is which field of ours, and how the list is read.

name = "Spring fair"     # optional
prefix = "B-"            # optional, put before each order number
[columns]
recipient = "Who it goes to"
discount = ""            # no column is it, whatever the headers say
[reading]                # optional, each line of it too
encoding = "cp1250"
delimiter = ";"
sheet = "Orders"
dates = "day"            # what a date in numbers begins with: day or month
decimal = ","            # the sign before the decimals
"""

from __future__ import annotations

import json
from collections.abc import Mapping
from dataclasses import asdict, dataclass, field
from pathlib import Path
from typing import Any

from desk.intake.columns.header_words import NEEDED, ORDER_WORDS
from desk.intake.columns.reading import DATES, DECIMALS, NOTHING_CHOSEN, Reading
from desk.intake.table.delimited import DELIMITERS
from desk.intake.table.faults_found import FaultsFound
from desk.intake.table.toml_text import KeyLines, read_toml

_TOP = ("name", "prefix")
_READING: Mapping[str, tuple[str, ...]] = {
    "encoding": (),
    "delimiter": DELIMITERS,
    "sheet": (),
    "dates": DATES,
    "decimal": DECIMALS,
}


@dataclass(frozen=True, slots=True)
class ColumnMapping:
    """`columns` is our field -> the header in the file, empty where no column is it.

    `prefix` goes before each order number.
    """

    columns: Mapping[str, str] = field(default_factory=dict)
    prefix: str = ""
    reading: Reading = NOTHING_CHOSEN
    name: str = ""


def read_mapping(path: Path) -> ColumnMapping:
    """Read a mapping; Unreadable with every unknown field and wrong type."""
    values, lines = read_toml(path)
    faults = FaultsFound(str(path))
    columns = values.get("columns", {})
    if "columns" not in values or not isinstance(columns, dict):
        faults.add(lines.of(("columns",)), "columns", "", 'a table [columns] with lines like recipient = "Ship to"')
        columns = {}
    # A prefix written below the table's head belongs to the table by TOML's rules; the meaning is plain.
    top = {"name": "", "prefix": columns.pop("prefix", "")} | {key: values[key] for key in _TOP if key in values}
    for key, value in top.items():
        if not isinstance(value, str):
            faults.add(lines.of((key,)), key, str(value), 'text in quotes, such as "B-"')
    for name in values.keys() - {"columns", "reading", *_TOP}:
        faults.add(lines.of((name,)), name, name, "nothing but name, prefix and the tables [columns] and [reading]")
    for ours, header in columns.items():
        _check(ours, header, faults, lines.of(("columns", ours)))
    reading = _reading(values.get("reading", {}), faults, lines)
    faults.raise_any()
    return ColumnMapping(dict(columns), top["prefix"], reading, top["name"])


def mapping_text(mapping: ColumnMapping) -> str:
    """The mapping as TOML that `read_mapping` reads back equal."""
    top = {key: getattr(mapping, key) for key in _TOP}
    tables = {"columns": dict(mapping.columns), "reading": {k: v for k, v in asdict(mapping.reading).items() if v}}
    lines = [f"{key} = {_quoted(value)}" for key, value in top.items() if value]
    for table, values in tables.items():
        if values or table == "columns":
            lines += [f"[{table}]", *(f"{key} = {_quoted(value)}" for key, value in values.items())]
    return "\n".join(lines) + "\n"


def _quoted(text: str) -> str:
    """A basic string of TOML, which JSON's string is but for the one control sign JSON leaves bare."""
    return json.dumps(text, ensure_ascii=False).replace("\x7f", "\\u007f")


def _reading(table: Any, faults: FaultsFound, lines: KeyLines) -> Reading:
    if not isinstance(table, dict):
        faults.add(lines.of(("reading",)), "reading", str(table), 'a table [reading] with lines like dates = "day"')
        return NOTHING_CHOSEN
    known = {}
    for key, value in table.items():
        line = lines.of(("reading", key))
        allowed = _READING.get(key)
        if allowed is None:
            faults.add(line, f"reading.{key}", key, f"one of {', '.join(_READING)}")
        elif not isinstance(value, str) or not value or (allowed and value not in allowed):
            expected = " or ".join(map(repr, allowed)) if allowed else "text in quotes"
            faults.add(line, f"reading.{key}", str(value), expected)
        elif key == "encoding" and not _is_codec(value):
            faults.add(line, "reading.encoding", value, 'the name of an encoding, such as "cp1250"')
        else:
            known[key] = value
    return Reading(**known)


def _is_codec(name: str) -> bool:
    try:
        "".encode(name)  # codecs that are not of text are refused here, and only here
    except (LookupError, ValueError):
        return False
    return True


def _check(ours: str, header: object, faults: FaultsFound, line: int) -> None:
    if ours not in ORDER_WORDS:
        faults.add(line, f"columns.{ours}", ours, f"one of {', '.join(ORDER_WORDS)}")
    elif not isinstance(header, str) or (not header.strip() and ours in NEEDED):
        faults.add(line, f"columns.{ours}", str(header), "the header in the file, as text in quotes")
