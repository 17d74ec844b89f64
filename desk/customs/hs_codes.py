"""HS codes: is a code one of the edition in force, and which code might fit a thing?"""

from __future__ import annotations

import csv
from collections.abc import Mapping
from dataclasses import dataclass
from functools import cached_property
from importlib.resources.abc import Traversable

from desk.customs.checked import Checked, compact
from desk.domain.country import fold
from desk.domain.finding import Code, Finding, finding

EDITION = "HS 2022"  # in force until HS 2028 takes its place on 2028-01-01
FEWEST_DIGITS = 6
MOST_DIGITS = 12  # national codes go on to 8, 10 or 12 digits; from memory
SOURCE = "Postal Bulletin of 2025-08-07: six digits for every article of commercial goods from 2025-09-01"
TABLE = "open table of HS 2022 (ODC-PDDL-1.0)"


@dataclass(frozen=True, slots=True)
class Suggestion:
    """A code that might fit. A hint, not a ruling: customs decide."""

    phrase: str
    code: str
    heading: str
    confidence: str
    note: str
    words: str
    source: str
    known_by: str


class HsCodes:
    """The six-digit codes of HS 2022 and the suggestions, read from their folder when first asked for."""

    def __init__(self, folder: Traversable) -> None:
        self._folder = folder

    @classmethod
    def read(cls, folder: Traversable) -> HsCodes:
        """The codes of a folder with hs2022.csv and suggestions.csv; nothing is opened yet."""
        return cls(folder)

    @cached_property
    def descriptions(self) -> Mapping[str, str]:
        """Code to short description."""
        return {row["code"]: row["description"] for row in self._rows("hs2022.csv")}

    @cached_property
    def suggestions(self) -> tuple[Suggestion, ...]:
        """Every suggestion, in the table's order."""
        return tuple(Suggestion(**row) for row in self._rows("suggestions.csv"))

    def looked_at(self, code: str, edition: str = EDITION) -> Checked:
        """Look at one code. `why`: `none`, `not digits`, `too short`, `too long`, `other edition`, `not in edition`."""
        digits = compact(code)
        if fault := _shape_fault(digits):
            return Checked(False, digits, Code.HS_MISSING, fault)
        if edition and fold(edition).replace(" ", "") != fold(EDITION).replace(" ", ""):
            return Checked(False, digits, Code.HS_NOT_IN_EDITION, "other edition")
        if digits[:FEWEST_DIGITS] not in self.descriptions:
            return Checked(False, digits, Code.HS_NOT_IN_EDITION, "not in edition")
        return Checked(True, digits)

    def check(self, item: str, code: str, edition: str = EDITION) -> Finding | None:
        """What is to be said of the code of one line; None when it stands in the edition."""
        checked = self.looked_at(code, edition)
        if checked.ok:
            return None
        source = SOURCE if checked.code == Code.HS_MISSING else TABLE
        return finding(
            Code(checked.code), source=source, item=item, hs=checked.text, why=checked.why, edition=edition or EDITION
        )

    def suggest(self, text: str) -> tuple[Suggestion, ...]:
        """Suggestions that share a word with the text, those that share most first."""
        wanted = {_singular(word) for word in fold(text).split()}
        scored = [
            (len(wanted & {_singular(word) for word in fold(row.phrase).split()}), row) for row in self.suggestions
        ]
        return tuple(row for score, row in sorted(scored, key=lambda pair: -pair[0]) if score)

    def _rows(self, name: str) -> list[dict[str, str]]:
        return list(csv.DictReader(self._folder.joinpath(name).read_text(encoding="utf-8").splitlines()))


def _shape_fault(digits: str) -> str:
    if not digits:
        return "none"
    if not (digits.isascii() and digits.isdigit()):
        return "not digits"
    if len(digits) < FEWEST_DIGITS:
        return "too short"
    return "too long" if len(digits) > MOST_DIGITS else ""


def _singular(word: str) -> str:
    return word[:-1] if len(word) > 3 and word.endswith("s") else word
