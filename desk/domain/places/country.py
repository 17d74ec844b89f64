"""Countries: ISO 3166-1 codes, names, and the places that are domestic to the United States post."""

from __future__ import annotations

import csv
import re
import unicodedata
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from importlib.resources.abc import Traversable

# Many shops write these as a country, but they are domestic mail with that state code (Publication 28, Appendix B).
HOME = "US"
DOMESTIC_PLACES = frozenset("PR GU VI AS MP FM MH PW".split())
# Names that several countries share, so we must ask for the code.
SHARED_NAMES: Mapping[str, tuple[str, ...]] = {"congo": ("CD", "CG"), "virgin islands": ("VG", "VI")}
MILITARY_STATES = frozenset({"AA", "AE", "AP"})
_BETWEEN_NAMES = re.compile(r"[()\[\]/,;:|\u2013\u2014]|\s-\s|(?<=^[A-Za-z]{2})-")  # "DE-Deutschland", "France (FR)"
_LETTERS = str.maketrans({"\u00f8": "o", "\u0142": "l", "\u0111": "d", "\u0131": "i", "\u00e6": "ae", "\u0153": "oe"})


def is_abroad(country: str) -> bool:
    """Return True when an address's country is known and is not served by domestic mail.

    `country` is an ISO code, `US-AE` for a state of the military and island post, or empty while it is unknown.
    """
    return bool(country) and country not in DOMESTIC_PLACES | {HOME} and not country.startswith(f"{HOME}-")


@dataclass(frozen=True, slots=True)
class Countries:
    """The names of countries. `labels` maps codes to the name written on a label, in capitals."""

    labels: Mapping[str, str]
    names: Mapping[str, str]  # `country_key` of a name -> code

    @classmethod
    def read(cls, file: Traversable, more_names: Traversable | None = None) -> Countries:
        """Read a CSV with columns iso2, label_name, names (other English names, separated by `|`).

        `more_names` is a CSV with columns iso2, iso3, names, usual_names (names in other languages, separated by `|`).
        """
        known = cls.from_rows(csv.DictReader(file.read_text(encoding="utf-8").splitlines()))
        if more_names is None:
            return known
        names = dict(known.names)
        for row in csv.DictReader(more_names.read_text(encoding="utf-8").splitlines()):
            for name in (row["iso3"], *row["names"].split("|"), *row["usual_names"].split("|")):
                if name:
                    names.setdefault(country_key(name), row["iso2"])
        return cls(known.labels, names)

    @classmethod
    def from_rows(cls, rows: Iterable[Mapping[str, str]]) -> Countries:
        """Build from rows with the columns of `read`."""
        labels: dict[str, str] = {}
        names: dict[str, str] = {}
        for row in rows:
            code = row["iso2"]
            labels[code] = row["label_name"]
            for name in (row["label_name"], *filter(None, row["names"].split("|"))):
                names.setdefault(country_key(name), code)
        return cls(labels, names)

    def find(self, text: str) -> str | None:
        """Return the code for an ISO code or a name in any case, or for several of one country; None when uncertain."""
        if code := self._one(text):
            return code
        parts = {self._one(part) for part in _BETWEEN_NAMES.split(text) if part.strip()}
        if len(parts) == 2 and HOME in parts and parts & DOMESTIC_PLACES:
            parts.discard(HOME)  # "Puerto Rico, USA" is Puerto Rico
        return parts.pop() if len(parts) == 1 else None

    def _one(self, text: str) -> str | None:
        typed = text.strip()
        if self.several(typed):
            return None
        if len(typed) == 2 and typed.upper() in self.labels:
            return typed.upper()
        key = country_key(typed)
        return self.names.get(key) or self.names.get(key.removeprefix("the "))

    def several(self, text: str) -> tuple[str, ...]:
        """Return the possible codes of a name that several countries share; else none."""
        return SHARED_NAMES.get(fold(text), ())


def country_key(name: str) -> str:
    """Return a country's name ready to compare; a name in another script keeps its letters."""
    lower = name.casefold().translate(_LETTERS)
    return fold(lower) or unicodedata.normalize("NFKC", lower).strip()


def fold(name: str) -> str:
    """Return a name ready to compare: no accents, case or punctuation, single spaces."""
    plain = unicodedata.normalize("NFKD", name).encode("ascii", "ignore").decode().casefold()
    return " ".join("".join(char if char.isalnum() else " " for char in plain).split())
