"""Countries: ISO 3166-1 codes, English names, and the places that are domestic to the United States post."""

from __future__ import annotations

import csv
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


def is_abroad(country: str) -> bool:
    """Return True when an address's country is known and is not served by domestic mail.

    `country` is an ISO code, `US-AE` for a state of the military and island post, or empty while it is unknown.
    """
    return bool(country) and country not in DOMESTIC_PLACES | {HOME} and not country.startswith(f"{HOME}-")


@dataclass(frozen=True, slots=True)
class Countries:
    """The names of countries. `labels` maps codes to the name written on a label, in capitals."""

    labels: Mapping[str, str]
    names: Mapping[str, str]  # folded English name -> code

    @classmethod
    def read(cls, file: Traversable) -> Countries:
        """Read a CSV with columns iso2, label_name, names (other English names, separated by `|`)."""
        return cls.from_rows(csv.DictReader(file.read_text(encoding="utf-8").splitlines()))

    @classmethod
    def from_rows(cls, rows: Iterable[Mapping[str, str]]) -> Countries:
        """Build from rows with the columns of `read`."""
        labels: dict[str, str] = {}
        names: dict[str, str] = {}
        for row in rows:
            code = row["iso2"]
            labels[code] = row["label_name"]
            for name in (row["label_name"], *filter(None, row["names"].split("|"))):
                names.setdefault(fold(name), code)
        return cls(labels, names)

    def find(self, text: str) -> str | None:
        """Return the code for an ISO code or English name in any case; None when uncertain."""
        if self.several(text):
            return None
        typed = text.strip()
        if len(typed) == 2 and typed.upper() in self.labels:
            return typed.upper()
        return self.names.get(fold(typed))

    def several(self, text: str) -> tuple[str, ...]:
        """Return the possible codes of a name that several countries share; else none."""
        return SHARED_NAMES.get(fold(text), ())


def fold(name: str) -> str:
    """Return a name ready to compare: no accents, case or punctuation, single spaces."""
    plain = unicodedata.normalize("NFKD", name).encode("ascii", "ignore").decode().casefold()
    return " ".join("".join(char if char.isalnum() else " " for char in plain).split())
