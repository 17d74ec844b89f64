"""Destinations: where goods may not go, and what each place requires. Each rule has its source and dates."""

from __future__ import annotations

import csv
import re
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field, replace
from datetime import date
from importlib.resources.abc import Traversable

from desk.domain.exchange import STALE_AFTER_DAYS
from desk.domain.finding import Code, Finding, finding
from desk.domain.service import PostedAs, Service

ANY = "*"
LIST_OF = "list-of"  # a row that dates the list of a kind of rule
# lists a shop renews, whose age is reported
RENEWED = ("suspended", "import-limit", "seller-number", "duty-per-code")


@dataclass(frozen=True, slots=True)
class Rule:
    """One rule of one place. `value` is interpreted by the code that uses the rule; dates are None where unknown."""

    country: str
    rule: str
    value: str
    valid_from: date | None
    valid_until: date | None
    source: str
    known_by: str

    @property
    def parts(self) -> list[str]:
        """Return the parts of a value such as `kind|limit|counting`."""
        return self.value.split("|")

    def holds(self, on: date) -> bool:
        """Return True from the first day until the day before the last."""
        return (self.valid_from is None or self.valid_from <= on) and (
            self.valid_until is None or on < self.valid_until
        )


@dataclass(frozen=True, slots=True)
class Destinations:
    """The rules by place (`*` for everywhere, `GB-BT` for Northern Ireland), in the table's order.

    `dates` holds the date of the list of each kind of rule. `checked` is the day a person last checked that mail to a
    country goes again.
    """

    by_place: Mapping[str, tuple[Rule, ...]]
    dates: Mapping[str, date] = field(default_factory=dict)
    checked: Mapping[str, date] = field(default_factory=dict)

    @classmethod
    def read(cls, folder: Traversable) -> Destinations:
        """Read rules.csv of a folder. Raises ValueError for an invalid date."""
        text = folder.joinpath("rules.csv").read_text(encoding="utf-8")
        return cls.of(_rule(row) for row in csv.DictReader(text.splitlines()))

    @classmethod
    def of(cls, rules: Iterable[Rule]) -> Destinations:
        """Gather rules by place; rows `list-of` date the list of the kind they name."""
        by_place: dict[str, list[Rule]] = {}
        for rule in rules:
            by_place.setdefault(rule.country, []).append(rule)
        dated = (rule for rule in by_place.get(ANY, ()) if rule.rule == LIST_OF)
        dates = {rule.value: rule.valid_from for rule in dated if rule.valid_from is not None}
        return cls({place: tuple(rows) for place, rows in by_place.items()}, dates)

    def renewed(self, own: Sequence[Rule], dates: Mapping[str, date], checked: Mapping[str, date]) -> Destinations:
        """Return these rules with the shop's own, and the days its countries were checked.

        A kind in `dates` is a whole list and replaces every rule of that kind. Any other own row replaces only the rules
        of its kind for its place. Barred places stay barred.
        """
        if not own and not dates and not checked:
            return self
        places = {(rule.country, rule.rule) for rule in own}
        rest = (
            rule
            for rules in self.by_place.values()
            for rule in rules
            if rule.rule.startswith("barred") or (rule.rule not in dates and (rule.country, rule.rule) not in places)
        )
        both = Destinations.of((*rest, *own))
        return replace(both, dates={**both.dates, **dates}, checked=checked)

    def rules(self, place: str, kind: str, on: date) -> tuple[Rule, ...]:
        """Return the rules of that kind in force there on that day."""
        return tuple(rule for rule in self.by_place.get(place, ()) if rule.rule == kind and rule.holds(on))

    def rule(self, place: str, kind: str, on: date) -> Rule | None:
        """Return the first of `rules`, or None."""
        return next(iter(self.rules(place, kind, on)), None)

    def currencies(self, place: str, on: date) -> frozenset[str]:
        """Return the currencies of the limits that hold at a place on a day."""
        held = (rule for rule in self.by_place.get(place, ()) if rule.holds(on))
        return frozenset(code for rule in held for code in re.findall(r"\b([A-Z]{3}) [0-9]", rule.value))

    def barred(self, country: str, postal_code: str = "", region: str = "") -> Finding | None:
        """Return `destination-barred` where goods need a license (IMM 512.1), in a whole country or a part of one.

        A part is recognized by its postal code, or by a word in `region`, which may include the city.
        """
        for rule in self.by_place.get(country, ()):
            if why := _bars(rule, re.sub(r"[\s-]", "", postal_code), region.casefold()):
                return finding(Code.DESTINATION_BARRED, rule.source, country=country, why=why)
        return None

    def suspended(self, country: str, service: Service | None, on: date) -> Finding | None:
        """Return `destination-suspended` where mail doesn't go by the newest alert; letters may when it excepts them.

        A person who checked on a later day that mail has resumed settles it: then it is the note `destination-checked`.
        """
        alerts = [
            (rule.valid_from, rule)
            for rule in self.rules(country, "suspended", on)
            if rule.valid_from is not None and _suspends(rule.value, service)
        ]
        if not alerts:
            return None
        alert_on, rule = max(alerts, key=lambda alert: alert[0])
        checked = self.checked.get(country)
        if checked is not None and checked > alert_on:
            facts = {"country": country, "checked_on": checked.isoformat(), "alert_on": alert_on.isoformat()}
            return finding(Code.DESTINATION_CHECKED, rule.source, None, **facts)
        return finding(
            Code.DESTINATION_SUSPENDED,
            rule.source,
            None,
            country=country,
            service=service.id if service is not None else "",
            extent=rule.value,
            alert_on=alert_on.isoformat(),
            alert_age_days=(on - alert_on).days,
        )

    def old_lists(self, country: str, on: date) -> list[Finding]:
        """Return a note for each list, and for a check of this country, that is more than 30 days old on a day."""
        known = {kind: self.dates[kind] for kind in RENEWED if kind in self.dates}
        if country in self.checked:
            known["checked"] = self.checked[country]
        return [
            finding(
                Code.DESTINATIONS_OLD,
                "common practice",
                None,
                what=kind,
                country=country if kind == "checked" else "",
                list_on=day.isoformat(),
                list_age_days=(on - day).days,
            )
            for kind, day in known.items()
            if (on - day).days > STALE_AFTER_DAYS
        ]


# Parts of a country with their own import rules, recognized by postal code. Northern Ireland follows EU goods rules
# (from memory). The others are outside the EU's value-added tax area (Directive 2006/112/EC, article 6; postal codes
# from memory): goods to them get no IOSS number and none of its scheme's duty.
_PARTS = {
    "DE": (r"27498|78266", "DE-outside"),  # Heligoland, Busingen
    "ES": (r"(35|38|51|52)\d{3}", "ES-outside"),  # the Canary Islands, Ceuta, Melilla
    "FI": (r"22\d{3}", "FI-outside"),  # Åland
    "FR": (r"9[78]\d{3}", "FR-outside"),  # overseas; Monaco (98000) is written as a separate country
    "GB": (r"BT.*", "GB-BT"),
    "GR": (r"63086", "GR-outside"),  # Mount Athos
    "IT": (r"23041", "IT-outside"),  # Livigno
}
_MONACO = r"980\d{2}"
PARTS = frozenset(part for _, part in _PARTS.values())


def place_of(country: str, postal_code: str) -> str:
    """Return the place whose import rules apply: a part of the country with its own rules, else the country."""
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
    """Return whether an alert covers a service: `all except letters` spares the letter; `express only` covers none of
    ours.
    """
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
