"""A saved mapping (TOML): which header of an order list is which of our fields, and how the list is read.

name = "Spring fair"           # optional, like everything but [columns]
prefix = "B-"                  # put before each order number
encoding = "cp1250"
delimiter = ";"
sheet = "Orders"
ignore = ["Gate code"]         # columns that are not read, and not asked about
[columns]
recipient = "Ship to"
discount = ""                  # no column, whatever the headers say
[formats]
placed = "month first"         # or "day first"
unit_price = "comma decimals"  # or "point decimals"
discount = "percent"           # or "amount", "fraction"; several words separated by commas
"""

from __future__ import annotations

import json
from collections.abc import Mapping
from dataclasses import dataclass, field
from pathlib import Path

from desk.intake.columns.formats import DATE_FIELDS, FormatWord, allowed_formats
from desk.intake.columns.reading import NOTHING_CHOSEN, ReadingChoices
from desk.intake.order_headers.rules import NEEDED, ORDER_FIELDS
from desk.tables.delimited import DELIMITERS
from desk.tables.faults_found import FaultsFound
from desk.tables.toml_text import KeyLines, read_toml

_TEXTS = ("name", "prefix", "country", "encoding", "delimiter", "sheet")
_READING = ("encoding", "delimiter", "sheet")
_OLDER_DATES = {"day": "day first", "month": "month first"}  # [reading] dates and decimal, from before [formats]
_OLDER_DECIMALS = {",": "comma decimals", ".": "point decimals"}
_OLDER_AMOUNTS = ("unit_price", "shipping_paid", "discount")


@dataclass(frozen=True, slots=True)
class ColumnMapping:
    """A saved mapping: `columns` is field -> header in the file, empty for no column; `formats` is by field.

    `ignore` lists headers that are not read; `prefix` goes before each order number.
    """

    columns: Mapping[str, str] = field(default_factory=dict)
    prefix: str = ""
    reading: ReadingChoices = NOTHING_CHOSEN
    name: str = ""
    formats: Mapping[str, tuple[FormatWord, ...]] = field(default_factory=dict)
    ignore: tuple[str, ...] = ()
    country: str = ""


def read_mapping(path: Path) -> ColumnMapping:
    """Read a mapping. Raises Unreadable with every unknown field and wrong type."""
    values, lines = read_toml(path)
    faults = FaultsFound(str(path))
    columns = values.get("columns", {})
    if "columns" not in values or not isinstance(columns, dict):
        faults.add(lines.of(("columns",)), "columns", "", 'a table [columns] with lines like recipient = "Ship to"')
        columns = {}
    # TOML puts a text or list written below a table's heading into that table; the intent is clear.
    top = {key: columns.pop(key) for key in (*_TEXTS, "ignore") if key in columns and key not in ORDER_FIELDS} | {
        key: values[key] for key in (*_TEXTS, "ignore") if key in values
    }
    formats = values.get("formats", {})
    _with_older(values.get("reading"), top, formats if isinstance(formats, dict) else {})
    for key in values.keys() - {"columns", "formats", "reading", "ignore", *_TEXTS}:
        faults.add(lines.of((key,)), key, key, f"one of {', '.join(_TEXTS)}, ignore, or a table [columns] or [formats]")
    texts = {key: _text(key, top[key], faults, lines) for key in _TEXTS if key in top}
    for name, header in columns.items():
        _check_column(name, header, faults, lines.of(("columns", name)))
    checked = _formats(formats, faults, lines)
    ignore = _ignored(top.get("ignore", []), faults, lines)
    faults.raise_any()
    reading = ReadingChoices(**{key: texts[key] for key in _READING if key in texts})
    return ColumnMapping(
        dict(columns),
        texts.get("prefix", ""),
        reading,
        texts.get("name", ""),
        checked,
        ignore,
        texts.get("country", ""),
    )


def _with_older(reading: object, top: dict[str, object], formats: dict[str, object]) -> None:
    """Add the contents of a `[reading]` table, from mappings older than `[formats]`."""
    if not isinstance(reading, dict):
        return
    for key in _READING:
        if key in reading:
            top.setdefault(key, reading[key])
    if reading.get("dates") in _OLDER_DATES:
        formats.setdefault(DATE_FIELDS[0], _OLDER_DATES[reading["dates"]])
    if reading.get("decimal") in _OLDER_DECIMALS:
        for name in _OLDER_AMOUNTS:
            formats.setdefault(name, _OLDER_DECIMALS[reading["decimal"]])


def mapping_text(mapping: ColumnMapping, comments: Mapping[str, str] | None = None) -> str:
    """Return the mapping as TOML that `read_mapping` reads back equal; `comments` go after lines of [columns]."""
    reading = mapping.reading
    texts = {"name": mapping.name, "prefix": mapping.prefix, "country": mapping.country} | {
        key: getattr(reading, key) for key in _READING
    }
    lines = [f"{key} = {_quoted(value)}" for key, value in texts.items() if value]
    if mapping.ignore:
        lines.append(f"ignore = [{', '.join(map(_quoted, mapping.ignore))}]")
    lines.append("[columns]")
    for name, header in mapping.columns.items():
        comment = (comments or {}).get(name, "")
        lines.append(f"{name} = {_quoted(header)}" + (f"  # {_one_line(comment)}" if comment else ""))
    if mapping.formats:
        lines += ["[formats]", *(f"{key} = {_quoted(', '.join(words))}" for key, words in mapping.formats.items())]
    return "\n".join(lines) + "\n"


def _one_line(text: str) -> str:
    return "".join(char if char.isprintable() else " " for char in text)


def _quoted(text: str) -> str:
    """Return a TOML basic string: JSON's string, plus the one control character that JSON leaves bare."""
    return json.dumps(text, ensure_ascii=False).replace("\x7f", "\\u007f")


def _text(key: str, value: object, faults: FaultsFound, lines: KeyLines) -> str:
    line = lines.of((key,)) or lines.of(("columns", key)) or lines.of(("reading", key))
    if not isinstance(value, str):
        faults.add(line, key, str(value), 'text in quotes, such as "B-"')
        return ""
    if key == "delimiter" and value and value not in DELIMITERS:
        faults.add(line, key, value, " or ".join(map(repr, DELIMITERS)))
    if key == "encoding" and value and not _is_codec(value):
        faults.add(line, key, value, 'the name of an encoding, such as "cp1250"')
    return value


def _formats(formats: object, faults: FaultsFound, lines: KeyLines) -> dict[str, tuple[FormatWord, ...]]:
    if not isinstance(formats, dict):
        faults.add(
            lines.of(("formats",)), "formats", str(formats), 'a table [formats] with lines like placed = "month first"'
        )
        return {}
    checked = {}
    for name, typed in formats.items():
        line, allowed = lines.of(("formats", name)), allowed_formats(name)
        words = [word.strip() for word in typed.split(",")] if isinstance(typed, str) else []
        if not allowed:
            known = ", ".join(one for one in ORDER_FIELDS if allowed_formats(one))
            faults.add(line, f"formats.{name}", name, f"one of {known}")
        elif not words or not set(words) <= set(allowed):
            faults.add(line, f"formats.{name}", str(typed), " or ".join(f'"{word}"' for word in allowed))
        else:
            checked[name] = tuple(map(FormatWord, words))
    return checked


def _ignored(ignore: object, faults: FaultsFound, lines: KeyLines) -> tuple[str, ...]:
    if not isinstance(ignore, list) or not all(isinstance(header, str) for header in ignore):
        faults.add(lines.of(("ignore",)), "ignore", str(ignore), 'a list of headers, such as ["Gate code"]')
        return ()
    return tuple(ignore)


def _is_codec(name: str) -> bool:
    try:
        "".encode(name)  # only this refuses codecs that are not for text
    except (LookupError, ValueError):
        return False
    return True


def _check_column(name: str, header: object, faults: FaultsFound, line: int) -> None:
    if name not in ORDER_FIELDS:
        faults.add(line, f"columns.{name}", name, f"one of {', '.join(ORDER_FIELDS)}")
    elif not isinstance(header, str) or (not header.strip() and name in NEEDED):
        faults.add(line, f"columns.{name}", str(header), "the header in the file, as text in quotes")
