"""What a shop knows better than the shipped destination lists: newer lists, and countries checked with the post."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field, replace
from datetime import date
from pathlib import Path

from desk.customs.destination_file import known_columns, read_rules
from desk.customs.destinations import LIST_OF, RENEWED, Destinations, Rule
from desk.domain.faults import FileFault, Refused, Unreadable
from desk.domain.places.country import Countries
from desk.session.sitting import Sitting
from desk.session.words.facts import country_in_words
from desk.store.tables import settings
from desk.store.tables.orders import StoreView
from desk.store.transaction import Transaction

NAME = "own destination rules"
Rules = tuple[Rule, ...]


@dataclass(frozen=True, slots=True)
class OwnDestinations:
    """Imported rules, the date of each whole list among them, and the day each country was last checked."""

    rules: tuple[Rule, ...] = ()
    dates: Mapping[str, date] = field(default_factory=dict, hash=False)
    checked: Mapping[str, date] = field(default_factory=dict, hash=False)


def own_destinations(conn: StoreView) -> OwnDestinations:
    """Return the shop's own lists that replace shipped ones."""
    return settings.read(conn, NAME, OwnDestinations())


def with_own_destinations(shipped: Destinations, conn: StoreView) -> Destinations:
    """Return the shipped rules with the shop's own lists and checks."""
    own = own_destinations(conn)
    return shipped.renewed(own.rules, own.dates, own.checked)


def keep_destinations(sitting: Sitting, read: Rules, name: str) -> int:
    """Use the rules read from a list of that name, as one step; return how many there are.

    Where the list says that it is the whole list of a kind, it replaces that list; else each row replaces the rules of
    its kind for its country.
    """
    whole = {rule.value: rule.valid_from for rule in read if rule.rule == LIST_OF and rule.valid_from is not None}
    rules = tuple(rule for rule in read if rule.rule != LIST_OF)
    places = {(rule.country, rule.rule) for rule in rules}
    with sitting.store.act(f"Destination list imported: {name}") as tx:
        before = own_destinations(tx.conn)
        rest = [rule for rule in before.rules if rule.rule not in whole and (rule.country, rule.rule) not in places]
        settings.write(tx, NAME, replace(before, rules=(*rest, *rules), dates={**before.dates, **whole}))
    sitting.announce(sitting.store.last_changes)
    return len(rules)


def drop_destinations(sitting: Sitting) -> None:
    """Use the shipped lists again, as one step; checks of countries stay."""
    with sitting.store.act("Own destination lists removed") as tx:
        settings.write(tx, NAME, replace(own_destinations(tx.conn), rules=(), dates={}))
    sitting.announce(sitting.store.last_changes)


def check_country(sitting: Sitting, country: str) -> None:
    """Record that you confirmed today that mail to a country has resumed, as one step.

    Refused for a country with no suspension.
    """
    if sitting.rulebook.destinations.rule(country, "suspended", sitting.on) is None:
        raise Refused(f"No suspension of mail to {country_in_words(country)} is known.")
    with sitting.store.act(f"Mail to {country_in_words(country)} marked as resumed") as tx:
        note_check(tx, country, sitting.on)
    sitting.announce(sitting.store.last_changes)


def note_check(tx: Transaction, country: str, on: date) -> None:
    """Record, within a step, that mail to a country has resumed as of a day."""
    before = own_destinations(tx.conn)
    settings.write(tx, NAME, replace(before, checked={**before.checked, country: on}))


@dataclass(frozen=True, slots=True)
class DestinationRow:
    """A suspended country as Setup shows it: its name, the alert's day, extent and source, and the day it was checked."""

    country: str
    name: str
    alert_on: date | None
    extent: str
    source: str
    checked: date | None


def suspended_rows(destinations: Destinations, on: date) -> tuple[DestinationRow, ...]:
    """Return every suspension in force on a day: by country, the newest alert first."""
    suspended = [
        (country, rule) for country in destinations.by_place for rule in destinations.rules(country, "suspended", on)
    ]
    rows = (
        DestinationRow(
            country,
            country_in_words(country).removeprefix("the "),
            rule.valid_from,
            rule.value,
            rule.source,
            destinations.checked.get(country),
        )
        for country, rule in suspended
    )
    newest_first = sorted(rows, key=lambda row: row.alert_on or date.min, reverse=True)
    return tuple(sorted(newest_first, key=lambda row: row.name))


def list_days(destinations: Destinations) -> tuple[tuple[str, date], ...]:
    """Return each renewable list with its day."""
    return tuple((kind, destinations.dates[kind]) for kind in RENEWED if kind in destinations.dates)


def read_destinations(path: Path, countries: Countries) -> Rules:
    """Return the rules of a list. For any thread. Raises Unreadable with every fault of the file."""
    from desk.intake.columns.sheet import read_sheet  # only when a list is imported

    try:
        sheet = read_sheet(path, known=known_columns)
        lines = [(row.line, row.cells) for row in sheet.rows]
        return read_rules(path.name, (sheet.header_line, sheet.header), lines, countries)
    except Unreadable as unreadable:
        raise Unreadable([_named(fault, path.name) for fault in unreadable.faults]) from None


def _named(fault: FileFault, name: str) -> FileFault:
    return replace(fault, file=name)
