"""Zone file: the post's own zone chart for the prefix a shop mails from, from rows already read.

Columns for prefix and zone, in any order, once or several times side by side, as printed charts have them; `edition`
(the chart's date) where known. A prefix is three digits, a range such as `010-013`, or five digits (also a range) where
the chart lists single ZIP codes. A zone with a mark is refused, because the mark means it does not apply to all mail.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass

from desk.domain.faults import FileFault, Unreadable
from desk.rates.zone import spread

SHOWN = 80  # characters of a cell that an error message quotes
_PREFIX = re.compile(r"([0-9]{3}|[0-9]{5})(?:\s*[-–—]{1,3}\s*([0-9]{3}|[0-9]{5}))?")
_COUNTED = re.compile(r"\s*\[[0-9]+\]")
_ZONE = re.compile(r"[1-9]")
_HEADINGS = {
    **dict.fromkeys(("prefix", "zip", "zip3", "zip code", "zip codes", "destination", "destination zip"), "prefix"),
    **dict.fromkeys(("zone", "zones"), "zone"),
    **dict.fromkeys(("edition", "effective"), "edition"),
}


@dataclass(frozen=True, slots=True)
class ZoneRows:
    """The rows of a zone chart: prefix or five-digit ZIP -> zone; and its edition, else the file's name."""

    rows: Mapping[str, int]
    edition: str


def known_headings(cells: Sequence[str]) -> int:
    """Return how many cells of a row are headings of a zone chart, to find where its table begins."""
    return sum(bool(_heading(cell)) for cell in cells)


def zone_rows(file: str, heading: tuple[int, Sequence[str]], lines: Iterable[tuple[int, Sequence[str]]]) -> ZoneRows:
    """Return the zones of a chart from its heading and rows, each with its line.

    Raises:
        Unreadable: with every fault of the file.
    """
    faults: list[FileFault] = []
    names = [_heading(cell) for cell in heading[1]]
    prefixes, zones = ([at for at, name in enumerate(names) if name == wanted] for wanted in ("prefix", "zone"))
    if not prefixes or len(prefixes) != len(zones):
        expected = "a heading with the columns prefix and zone"
        raise Unreadable([FileFault(file, heading[0], "", ",".join(heading[1]), expected)])
    rows: dict[str, int] = {}
    edition = ""
    dated = names.index("edition") if "edition" in names else None
    for number, cells in lines:
        at = dict(enumerate(cell.strip() for cell in cells))
        edition = edition or (at.get(dated, "") if dated is not None else "")
        for prefix, zone in zip(prefixes, zones, strict=True):
            if at.get(prefix, "") or at.get(zone, ""):
                _add(rows, faults, (file, number), at.get(prefix, ""), at.get(zone, ""))
    if not rows and not faults:
        faults.append(FileFault(file, 0, "", "", "at least one row"))
    if faults:
        raise Unreadable(faults)
    return ZoneRows(rows, edition or file)


def _heading(cell: str) -> str:
    """Return what a column holds, `Zone [2]` like `Zone`; empty for anything else."""
    return _HEADINGS.get(_COUNTED.sub("", cell.strip().casefold()), "")


def _add(rows: dict[str, int], faults: list[FileFault], where: tuple[str, int], prefix: str, zone: str) -> None:
    codes = _codes(prefix)
    if not codes:
        expected = "three or five digits, or a rising range such as 010-013"
        faults.append(FileFault(*where, "prefix", prefix[:SHOWN], expected))
    elif not _ZONE.fullmatch(zone):
        faults.append(FileFault(*where, "zone", zone[:SHOWN], "a zone from 1 to 9"))
    elif twice := [code for code in codes if code in rows]:
        faults.append(FileFault(*where, "prefix", twice[0], "each prefix once"))
    else:
        rows.update(dict.fromkeys(codes, int(zone)))


def _codes(prefix: str) -> list[str]:
    match = _PREFIX.fullmatch(prefix)
    if not match or (match[2] and len(match[1]) != len(match[2])):
        return []
    return spread([f"{match[1]}-{match[2]}" if match[2] else match[1]])
