"""Head table: reads one table of a TOML head field by field, and reports each wrong field with its line."""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import date
from decimal import Decimal
from typing import TypeVar

from desk.domain.faults import FileFault
from desk.domain.money import Money
from desk.tables.toml_text import KeyLines, KeyPath

T = TypeVar("T")
# no list needs more digits, and a huge number must not fill the memory
PLAIN_NUMBER = re.compile(r"[0-9]{1,12}(\.[0-9]{1,9})?")


@dataclass(slots=True)
class HeadTable:
    """One table of `file`, at `path` in it (empty: the fields above all headings).

    Every `take` reads a field; `close` reports fields that were never read. Faults are collected, not raised.
    """

    file: str
    keys: KeyLines
    values: Mapping[str, object]
    faults: list[FileFault]
    path: KeyPath = ()
    asked: set[str] = field(default_factory=set)

    def take(self, name: str, kind: type[T], default: T, expected: str) -> T:
        """Return the field as `kind`; `default` when it is missing, or, with a fault, when it has another type."""
        self.asked.add(name)
        value = self.values.get(name, default)
        if type(value) is kind:  # isinstance would take a bool for an int, and a datetime for a date
            return value
        self.refuse(name, value, expected)
        return default

    def text(self, name: str, default: str = "") -> str:
        """Return a field that is text in quotes."""
        return self.take(name, str, default, "text in quotes")

    def needed_text(self, name: str, default: str = "") -> str:
        """Return a field that is text and must not be missing or empty, unless `default` replaces it."""
        value = self.text(name, default)
        if not value and (name not in self.values or self.values[name] == ""):
            self.refuse(name, "", f"text for {name}")
        return value

    def flag(self, name: str, *, default: bool) -> bool:
        """Return a field that is true or false."""
        return self.take(name, bool, default, "true or false")

    def day(self, name: str) -> date | None:
        """Return a field that is a day, such as 2026-07-12; None when missing."""
        if name not in self.values:
            self.asked.add(name)
            return None
        return self.take(name, date, date.min, "a day such as 2026-07-12")

    def number(self, name: str) -> Decimal | None:
        """Return a plain number above zero, in quotes to avoid binary fractions; None when missing or wrong."""
        expected = 'a number above zero in quotes, such as "3.5"'
        typed = self.take(name, str, "", expected)
        if name not in self.values:
            return None
        if PLAIN_NUMBER.fullmatch(typed) and Decimal(typed):
            return Decimal(typed)
        if typed or self.values[name] == "":
            self.refuse(name, typed, expected)
        return None

    def needed_number(self, name: str) -> Decimal:
        """Return a number that must be present; 1 after reporting a fault."""
        if name not in self.values:
            self.refuse(name, "", f"a number for {name}")
        return self.number(name) or Decimal(1)

    def amount(self, name: str, currency: str) -> Money | None:
        """Return an amount, in quotes, in that currency; None when missing or wrong."""
        typed = self.text(name)
        if name not in self.values:
            return None
        try:
            if PLAIN_NUMBER.fullmatch(typed):
                return Money.of(typed, currency)
        except ValueError:
            pass  # more decimals than the currency has
        self.refuse(name, typed, f'an amount of {currency} in quotes, such as "0.49"')
        return None

    def one_of(self, name: str, choices: tuple[str, ...], default: str) -> str:
        """Return a text that is one of the choices."""
        value = self.text(name, default)
        if value in choices:
            return value
        self.refuse(name, value, " or ".join(repr(choice) for choice in choices))
        return default

    def words(self, name: str, choices: tuple[str, ...]) -> frozenset[str]:
        """Return a list of one or more of the choices."""
        words = self.take(name, list, [], "a list of texts")
        if words and all(word in choices for word in words):
            return frozenset(words)
        if name not in self.values or isinstance(self.values[name], list):
            self.refuse(name, words or "", f"a list of some of {', '.join(choices)}")
        return frozenset()

    def texts(self, name: str) -> tuple[str, ...]:
        """Return a list of texts that aren't empty; none when missing or wrong."""
        if name not in self.values:
            return ()
        listed = self.take(name, list, [], "a list of texts")
        if all(isinstance(each, str) and each.strip() for each in listed):
            return tuple(listed)
        self.refuse(name, listed, "a list of texts")
        return ()

    def tables(self, name: str) -> list[HeadTable]:
        """Return the tables of a list: each under its own `[[heading]]`, or all written inline on the field's line."""
        listed = self.take(name, list, [], "a list of tables")
        tables = [self._inside(entry, name, index) for index, entry in enumerate(listed) if isinstance(entry, dict)]
        if len(tables) < len(listed):
            self.refuse(name, "", "a list of tables only")
        return tables

    def named_tables(self, name: str) -> dict[str, HeadTable]:
        """Return the tables `[name.ID]` by their ID."""
        listed = self.take(name, dict, {}, f"tables [{name}.ID]")
        tables = {each: self._inside(entry, name, each) for each, entry in listed.items() if isinstance(entry, dict)}
        for each in listed.keys() - tables.keys():
            self.refuse(name, each, f"tables [{name}.ID]")
        return tables

    def _inside(self, values: Mapping[str, object], *path: str | int) -> HeadTable:
        return HeadTable(self.file, self.keys, values, self.faults, (*self.path, *path))

    def close(self) -> None:
        """Report every field that was never read."""
        for name in self.values:
            if name not in self.asked:
                self.refuse(name, name, f"one of the fields {', '.join(sorted(self.asked))}")

    def refuse(self, name: str, found: object, expected: str) -> None:
        """Report a fault on that field's line."""
        self.faults.append(FileFault(self.file, self.line(name), name, str(found), expected))

    def line(self, name: str) -> int:
        """Return the line of the field, or of the table's heading when the field is missing."""
        return max(self.keys.of((*self.path, name)), 1)
