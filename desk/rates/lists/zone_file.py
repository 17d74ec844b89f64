"""Zone file: the post's own zone chart for the shop's prefix, copied into a CSV by the maker.

Columns `prefix` and `zone`, in any order; `edition` (the chart's date) where known, on the first row at least. A prefix
is three digits, a range such as `010-013`, or five digits (also a range) where the chart sets single ZIP codes apart.
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path

from desk.domain.faults import FileFault, Unreadable
from desk.rates.lists.cells_file import csv_lines
from desk.rates.zone import spread

_PREFIX = re.compile(r"[0-9]{3}(-[0-9]{3})?|[0-9]{5}(-[0-9]{5})?")
_ZONE = re.compile(r"[1-9]")
_HEADING = {"zip": "prefix", "zip3": "prefix", "destination": "prefix"}


@dataclass(frozen=True, slots=True)
class ZoneRows:
    """The rows of a zone chart: prefix or five-digit ZIP -> zone; and its edition, else the file's name."""

    rows: Mapping[str, int]
    edition: str


def read_zone_rows(path: Path) -> ZoneRows:
    """Read a zone chart.

    Raises:
        Unreadable: with every fault of the file.
    """
    faults: list[FileFault] = []
    rows: dict[str, int] = {}
    edition = ""
    for number, line in _lines(path, faults):
        edition = edition or line.get("edition", "")
        prefix, zone = line.get("prefix", ""), line.get("zone", "")
        codes = _codes(prefix)
        if not codes:
            expected = "three or five digits, or a rising range of them such as 010-013"
            faults.append(FileFault(path.name, number, "prefix", prefix, expected))
        elif not _ZONE.fullmatch(zone):
            faults.append(FileFault(path.name, number, "zone", zone, "a zone from 1 to 9"))
        elif twice := [code for code in codes if code in rows]:
            faults.append(FileFault(path.name, number, "prefix", twice[0], "each prefix once"))
        else:
            rows.update(dict.fromkeys(codes, int(zone)))
    if not rows and not faults:
        faults.append(FileFault(path.name, 0, "", "", "at least one row"))
    if faults:
        raise Unreadable(faults)
    return ZoneRows(rows, edition or path.name)


def _codes(prefix: str) -> list[str]:
    return spread([prefix]) if _PREFIX.fullmatch(prefix) else []


def _lines(path: Path, faults: list[FileFault]) -> list[tuple[int, dict[str, str]]]:
    found: list[FileFault] = []
    try:
        lines = csv_lines(path, path.name, found)
    except OSError:
        found.append(FileFault(path.name, 0, "", "", "a file that can be read, as text in UTF-8"))
        lines = []
    heading = [_HEADING.get(name.lower(), name.lower()) for name in (lines[0][1] if lines else [])]
    if not found and not {"prefix", "zone"} <= set(heading):
        found.append(FileFault(path.name, 1, "", ",".join(heading), "a heading with the columns prefix and zone"))
    faults += found
    return [] if found else [(number, dict(zip(heading, cells, strict=False))) for number, cells in lines[1:]]
