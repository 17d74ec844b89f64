"""Zone: how far apart two places are for postage, by the first three digits of both ZIP codes."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field, replace
from importlib.resources.abc import Traversable

from desk.domain.finding import Code, Finding, Severity, finding
from desk.tables.toml_text import parse_toml

# 090-098 AE, 340 AA, 962-966 AP (ZIP data; state names in Publication 28, Appendix B). A third of their five-digit
# codes are in another zone than their prefix, and we do not have those exceptions: such a zone needs a check.
MILITARY = frozenset(str(number).zfill(3) for number in (*range(90, 99), 340, *range(962, 967)))


@dataclass(frozen=True, slots=True)
class ZoneAnswer:
    """A zone (empty: unknown), the edition of its chart, and any findings about it."""

    zone: str
    edition: str
    findings: tuple[Finding, ...] = ()


@dataclass(frozen=True, slots=True)
class SplitPrefix:
    """A prefix with more than one zone: `listed` for the ZIP codes named, where the matrix has `listed`; else
    `otherwise`.
    """

    listed: str
    otherwise: str
    zips: frozenset[str]


@dataclass(frozen=True, slots=True)
class Zones:
    """One edition's general matrix, and optionally a shop's own chart for the prefix it mails from.

    `matrix` maps each origin prefix to the zones of the prefixes 000 to 999 as one text, `0` where there is none.
    """

    edition: str
    source: str
    matrix: Mapping[str, str]
    places: Mapping[str, SplitPrefix]
    own_prefix: str = ""
    own_edition: str = ""
    own: Mapping[str, int] = field(default_factory=dict)

    @classmethod
    def read(cls, folder: Traversable) -> Zones:
        """Read the shipped matrix: `edition.toml` and `matrix.csv`."""
        about, _ = parse_toml((folder / "edition.toml").read_bytes(), "edition.toml")
        lines = (folder / "matrix.csv").read_text(encoding="utf-8").splitlines()[1:]
        matrix = {origin: zones for origin, _, zones in (line.partition(",") for line in lines)}
        places = {
            place["prefix"]: SplitPrefix(place["listed"], place["otherwise"], frozenset(spread(place["zips"])))
            for place in about["places"]
        }
        return cls(about["edition"], about["source"], matrix, places)

    def with_chart(self, rows: Mapping[str, int], origin_prefix: str, edition: str) -> Zones:
        """Return a copy with the post's own chart for `origin_prefix`: prefix or five-digit ZIP -> zone. It wins."""
        return replace(self, own=dict(rows), own_prefix=origin_prefix[:3], own_edition=edition)

    def find(self, origin_zip: str, destination_zip: str) -> ZoneAnswer:
        """Return the zone between two ZIP codes or three-digit prefixes.

        Findings: `zone-estimated` for military places known only from the general matrix, and `zone-unknown`.
        """
        origin, destination = origin_zip.strip()[:3], destination_zip.strip()
        if origin == self.own_prefix:
            own = self.own.get(destination[:5]) or self.own.get(destination[:3])
            if own is not None:
                return ZoneAnswer(str(own), self.own_edition)
        zone = self._estimate(origin, destination)
        if not zone:
            facts = {"origin": origin, "destination": destination[:3]}
            return ZoneAnswer("", self.edition, (finding(Code.ZONE_UNKNOWN, self.source, None, **facts),))
        military = origin in MILITARY or destination[:3] in MILITARY
        return ZoneAnswer(zone, self.edition, _estimated(zone, self.edition, self.source) if military else ())

    def _estimate(self, origin: str, destination: str) -> str:
        row, prefix = self.matrix.get(origin), destination[:3]
        if row is None or len(prefix) < 3 or not (prefix.isascii() and prefix.isdecimal()):
            return ""
        zone = row[int(prefix)].replace("0", "")
        place = self.places.get(destination[:3])
        if place and zone == place.listed and len(destination) > 3 and destination[:5] not in place.zips:
            return place.otherwise
        return zone


def _estimated(zone: str, edition: str, source: str) -> tuple[Finding, ...]:
    """Return the finding about a zone that is only estimated."""
    return (finding(Code.ZONE_ESTIMATED, source, Severity.LOOK, zone=zone, edition=edition, military=True),)


def spread(ranges: list[str]) -> list[str]:
    """Return `["96939-96944", "96960"]` as single codes, each as long as the first of its range."""
    codes: list[str] = []
    for written in ranges:
        first, _, last = written.partition("-")
        codes.extend(str(code).zfill(len(first)) for code in range(int(first), int(last or first) + 1))
    return codes
