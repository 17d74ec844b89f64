"""Read TOML written by hand: its values with exact decimals, and the line of each key."""

from __future__ import annotations

import re
import tomllib
from collections.abc import Mapping
from dataclasses import dataclass
from decimal import Decimal
from pathlib import Path
from typing import Any  # as tomllib gives values

from desk.tables.faults_found import unreadable
from desk.tables.files import read_bytes

KeyPath = tuple[str | int, ...]

_HEAD = re.compile(r"\s*(\[\[?)\s*(.+?)\s*\]\]?\s*(?:#.*)?$")
_KEY = re.compile(r"""\s*((?:"[^"]*"|'[^']*'|[\w.-])+)\s*=""")
_PART = re.compile(r""""([^"]*)"|'([^']*)'|([\w-]+)""")
_PLACE = re.compile(r"\s*\(at (?:line (\d+), column \d+|end of document)\)")


@dataclass(frozen=True, slots=True)
class KeyLines:
    """The line of each key by its path; entries of a list of tables count from 0."""

    lines: Mapping[KeyPath, int]

    def of(self, path: KeyPath) -> int:
        """Return the line of a key, or of the nearest table around it; 0 when the text has neither."""
        for end in range(len(path), 0, -1):
            if path[:end] in self.lines:
                return self.lines[path[:end]]
        return 0


def read_toml(path: Path) -> tuple[dict[str, Any], KeyLines]:
    """Return the values (decimal numbers as Decimal) and the keys' lines. Raises Unreadable when it is not TOML."""
    return parse_toml(read_bytes(path), str(path))


def parse_toml(raw: bytes, name: str) -> tuple[dict[str, Any], KeyLines]:
    """Return the values and the keys' lines of a file's bytes, as `read_toml` does."""
    try:
        text = raw.decode("utf-8-sig")
        values = tomllib.loads(text.replace("\r\n", "\n"), parse_float=Decimal)
    except UnicodeDecodeError:
        raise unreadable(name, "text in UTF-8") from None
    except tomllib.TOMLDecodeError as error:
        place = _PLACE.search(str(error))
        line = int(place[1]) if place and place[1] else 0
        raise unreadable(name, f"valid TOML: {_PLACE.sub('', str(error))}", line) from None
    except (ValueError, ArithmeticError, RecursionError):
        raise unreadable(name, "TOML with dates and numbers that exist") from None
    return values, key_lines(text)


def key_lines(text: str) -> KeyLines:
    """Return the lines of the keys. Keys inside multi-line text may be found too; they are never looked up."""
    lines: dict[KeyPath, int] = {}
    counts: dict[tuple[str, ...], int] = {}
    table: KeyPath = ()
    for number, line in enumerate(text.splitlines(), start=1):
        if head := _HEAD.match(line):
            names = _parts(head[2])
            if head[1] == "[[":
                counts[names] = counts.get(names, -1) + 1
                lines.setdefault(names, number)
            table = _counted(names, counts)
            lines.setdefault(table, number)
        elif key := _KEY.match(line):
            path = table
            for part in _parts(key[1]):
                path = (*path, part)
                lines.setdefault(path, number)
    return KeyLines(lines)


def _counted(names: tuple[str, ...], counts: Mapping[tuple[str, ...], int]) -> KeyPath:
    """Return a table's path, with the index after each name that is a list of tables."""
    path: KeyPath = ()
    for end, name in enumerate(names, start=1):
        path = (*path, name, counts[names[:end]]) if names[:end] in counts else (*path, name)
    return path


def _parts(dotted: str) -> tuple[str, ...]:
    return tuple(next(group for group in groups if group) if any(groups) else "" for groups in _PART.findall(dotted))
