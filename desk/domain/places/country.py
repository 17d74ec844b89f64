"""Countries: ISO 3166-1 codes, English names, and the places that are domestic to the United States post."""

from __future__ import annotations

import csv
import unicodedata
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from importlib.resources.abc import Traversable

# Written as a country by many shops, but domestic mail with that state code (Publication 28, Appendix B).
HOME = "US"
DOMESTIC_PLACES = frozenset("PR GU VI AS MP FM MH PW".split())
# Names that more than one country goes by: the code has to be asked for.
SHARED_NAMES: Mapping[str, tuple[str, ...]] = {"congo": ("CD", "CG"), "virgin islands": ("VG", "VI")}
MILITARY_STATES = frozenset({"AA", "AE", "AP"})


def is_abroad(country: str) -> bool:
    """Return True when an address's country is known and is not served by domestic mail.

    `country` is an ISO code, `US-AE` for a state of the military and island post, or empty while it is unknown.
    """
    return bool(country) and country not in DOMESTIC_PLACES | {HOME} and not country.startswith(f"{HOME}-")


@dataclass(frozen=True, slots=True)
class Countries:
    """The names of countries. `labels` holds the name a label carries, in capitals, by code."""

    labels: Mapping[str, str]
    names: Mapping[str, str]  # folded English name -> code

    @classmethod
    def read(cls, file: Traversable) -> Countries:
        """Read a CSV with columns iso2, label_name, names (further English names, `|` between them)."""
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
        """Return the code of a country typed as ISO code or English name in any case; None when it is not sure."""
        if self.several(text):
            return None
        typed = text.strip()
        if len(typed) == 2 and typed.upper() in self.labels:
            return typed.upper()
        return self.names.get(fold(typed))

    def several(self, text: str) -> tuple[str, ...]:
        """Return the codes that a name may stand for when there is more than one; else none."""
        return SHARED_NAMES.get(fold(text), ())


def fold(name: str) -> str:
    """A name made comparable: no accents, no case, no signs, single spaces."""
    plain = unicodedata.normalize("NFKD", name).encode("ascii", "ignore").decode().casefold()
    return " ".join("".join(sign if sign.isalnum() else " " for sign in plain).split())
