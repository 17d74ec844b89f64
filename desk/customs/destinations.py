"""Destinations: where goods may not go, and what the place asks for. Each rule is a row with its source and dates."""

from __future__ import annotations

import csv
import re
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from datetime import date
from importlib.resources.abc import Traversable

from desk.domain.finding import Code, Finding, Severity, finding
from desk.domain.service import PostedAs, Service

ANY = "*"


@dataclass(frozen=True, slots=True)
class Rule:
    """One rule of one place. `value` is read by who asks for the rule; dates are None where none is known."""

    country: str
    rule: str
    value: str
    valid_from: date | None
    valid_until: date | None
    source: str
    known_by: str

    def holds(self, on: date) -> bool:
        """True on a day from its first to before its last."""
        return (self.valid_from is None or self.valid_from <= on) and (
            self.valid_until is None or on < self.valid_until
        )


@dataclass(frozen=True, slots=True)
class Destinations:
    """The rules by place (`*` for everywhere, `GB-BT` for Northern Ireland), in the table's order."""

    by_place: Mapping[str, tuple[Rule, ...]]

    @classmethod
    def read(cls, folder: Traversable) -> Destinations:
        """Read rules.csv of a folder; ValueError for a date that is none."""
        text = folder.joinpath("rules.csv").read_text(encoding="utf-8")
        return cls.of(_rule(row) for row in csv.DictReader(text.splitlines()))

    @classmethod
    def of(cls, rules: Iterable[Rule]) -> Destinations:
        """Rules gathered by place."""
        by_place: dict[str, list[Rule]] = {}
        for rule in rules:
            by_place.setdefault(rule.country, []).append(rule)
        return cls({place: tuple(rows) for place, rows in by_place.items()})

    def rules(self, place: str, kind: str, on: date) -> tuple[Rule, ...]:
        """The rules of that kind that hold there on that day."""
        return tuple(rule for rule in self.by_place.get(place, ()) if rule.rule == kind and rule.holds(on))

    def rule(self, place: str, kind: str, on: date) -> Rule | None:
        """The first of `rules`, or None."""
        return next(iter(self.rules(place, kind, on)), None)

    def barred(self, country: str, postal_code: str = "", region: str = "") -> Finding | None:
        """`destination-barred` where goods need a licence (IMM 512.1): a whole country, or a part of one.

        A part is known by its postal code or by a word in `region`, where the city may stand beside the region.
        """
        for rule in self.by_place.get(country, ()):
            if why := _bars(rule, re.sub(r"[\s-]", "", postal_code), region.casefold()):
                return finding(Code.DESTINATION_BARRED, rule.source, country=country, why=why)
        return None

    def suspended(self, country: str, service: Service | None, on: date) -> Finding | None:
        """`destination-suspended` where the post took no mail of that kind, by the newest alert before that day.

        The alert's date and age are facts: it must be looked up again before anybody relies on it.
        """
        rule = self.rule(country, "suspended", on)
        if rule is None or rule.valid_from is None or not _suspends(rule.value, service):
            return None
        return finding(
            Code.DESTINATION_SUSPENDED,
            rule.source,
            Severity.STOP,
            country=country,
            service=service.id if service is not None else "",
            extent=rule.value,
            alert_on=rule.valid_from.isoformat(),
            alert_age_days=(on - rule.valid_from).days,
        )


# Parts of a country with import rules of their own, known by their postal codes. Northern Ireland follows EU goods rules
# (from memory). The others lie outside the area of value-added tax of the EU (Directive 2006/112/EC, article 6; postal
# codes from memory): no IOSS number and no duty by its scheme goes with goods to them.
_PARTS = {
    "DE": (r"27498|78266", "DE-outside"),  # Heligoland, Busingen
    "ES": (r"(35|38|51|52)\d{3}", "ES-outside"),  # the Canary Islands, Ceuta, Melilla
    "FI": (r"22\d{3}", "FI-outside"),  # Aland
    "FR": (r"9[78]\d{3}", "FR-outside"),  # overseas; Monaco (98000) is written as its own country
    "GB": (r"BT.*", "GB-BT"),
    "GR": (r"63086", "GR-outside"),  # Mount Athos
    "IT": (r"23041", "IT-outside"),  # Livigno
}
_MONACO = r"980\d{2}"


def place_of(country: str, postal_code: str) -> str:
    """Return the place whose import rules hold: a part of the country with rules of its own, else the country."""
    code = re.sub(r"[\s-]", "", postal_code).upper()
    if country == "FR" and re.fullmatch(_MONACO, code):
        return "MC"
    shape, part = _PARTS.get(country, ("", ""))
    return part if shape and re.fullmatch(shape, code) else country


def _bars(rule: Rule, postal_code: str, region: str) -> str:
    if rule.rule == "barred":
        return "country"
    if rule.rule == "barred-postal-code" and re.fullmatch(rule.value, postal_code):
        return "postal code"
    if rule.rule == "barred-region" and re.search(rule.value, region):
        return "region"
    return ""


def _suspends(extent: str, service: Service | None) -> bool:
    """`all`; `all except letters` lets the letter through; `express only` touches no service of this program."""
    is_letter = service is None or service.posted_as is PostedAs.LETTER
    return extent == "all" or (extent == "all except letters" and not is_letter)


def _rule(row: Mapping[str, str]) -> Rule:
    return Rule(
        row["iso2"],
        row["rule"],
        row["value"],
        _day(row["valid_from"]),
        _day(row["valid_until"]),
        row["source"],
        row["known_by"],
    )


def _day(text: str) -> date | None:
    return date.fromisoformat(text) if text else None
