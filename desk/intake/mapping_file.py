"""A saved mapping (TOML): which header of a shop's order list is which field of ours.

prefix = "B-"            # optional, put before each order number
[columns]
recipient = "Who it goes to"
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from pathlib import Path

from desk.intake.faults_found import FaultsFound
from desk.intake.sheet_words import ORDER_WORDS
from desk.intake.toml_text import read_toml


@dataclass(frozen=True, slots=True)
class ColumnMapping:
    """`columns` is our field -> the header in the file; `prefix` goes before each order number."""

    columns: Mapping[str, str] = field(default_factory=dict)
    prefix: str = ""


def read_mapping(path: Path) -> ColumnMapping:
    """Read a mapping; Unreadable with every unknown field and wrong type."""
    values, lines = read_toml(path)
    faults = FaultsFound(str(path))
    columns = values.get("columns", {})
    if "columns" not in values or not isinstance(columns, dict):
        faults.add(lines.of(("columns",)), "columns", "", 'a table [columns] with lines like recipient = "Ship to"')
        columns = {}
    # A prefix written below the table's head belongs to the table by TOML's rules; the meaning is plain.
    inside = columns.pop("prefix", "")
    prefix = values.get("prefix", inside)
    if not isinstance(prefix, str):
        faults.add(lines.of(("prefix",)), "prefix", str(prefix), 'text in quotes, such as "B-"')
    for name in values.keys() - {"columns", "prefix"}:
        faults.add(lines.of((name,)), name, name, "nothing but prefix and the table [columns]")
    for ours, header in columns.items():
        _check(ours, header, faults, lines.of(("columns", ours)))
    faults.raise_any()
    return ColumnMapping(dict(columns), prefix)


def _check(ours: str, header: object, faults: FaultsFound, line: int) -> None:
    if ours not in ORDER_WORDS:
        faults.add(line, f"columns.{ours}", ours, f"one of {', '.join(ORDER_WORDS)}")
    elif not isinstance(header, str) or not header.strip():
        faults.add(line, f"columns.{ours}", str(header), "the header in the file, as text in quotes")
