"""HS codes: whether a code is in the edition in force, and which codes may fit a product."""

from __future__ import annotations

import csv
import re
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from functools import cached_property
from importlib.resources.abc import Traversable

from desk.customs.check_result import Checked, compact
from desk.customs.hs_search import HEADING, HsMatch, HsSearch
from desk.domain.finding import Code, Finding, finding
from desk.domain.places.country import fold

EDITION = "HS 2022"  # in force until HS 2028 replaces it on 2028-01-01
FEWEST_DIGITS = 6
MOST_DIGITS = 12  # national codes extend to 8, 10 or 12 digits; from memory
SOURCE = "Postal Bulletin of August 7, 2025"
MOST_HINTS = 5
TABLE = "open table of HS 2022 (ODC-PDDL-1.0)"


@dataclass(frozen=True, slots=True)
class GoodsPhrase:
    """A row of suggestions.csv: a phrase with its likely code, the code's meaning, and its source."""

    phrase: str
    code: str
    heading: str
    confidence: str
    note: str
    words: str
    source: str
    known_by: str


@dataclass(frozen=True, slots=True)
class HsHint:
    """A code that may fit. A hint, not a ruling: customs decide.

    `words` describes the code, `heading` its first four digits; `matched` are the typed words that led to it. `note`
    and `source` are filled where one of our goods phrases names the code.
    """

    code: str
    words: str
    heading: str
    matched: tuple[str, ...]
    note: str = ""
    source: str = TABLE


class HsCodes:
    """The six-digit codes of HS 2022 and the words that lead to them, read from their folder on first use."""

    def __init__(self, folder: Traversable) -> None:
        self._folder = folder

    @classmethod
    def read(cls, folder: Traversable) -> HsCodes:
        """Return the codes of a folder, without opening it yet."""
        return cls(folder)

    @cached_property
    def descriptions(self) -> Mapping[str, str]:
        """Return six-digit code to short description."""
        return {row["code"]: row["description"] for row in self._rows("hs2022.csv")}

    @cached_property
    def headings(self) -> Mapping[str, str]:
        """Return code of two or four digits to short description."""
        return {row["code"]: row["description"] for row in self._rows("headings.csv")}

    @cached_property
    def phrases(self) -> tuple[GoodsPhrase, ...]:
        """Return our goods phrases, in the table's order."""
        return tuple(GoodsPhrase(**row) for row in self._rows("suggestions.csv"))

    @cached_property
    def search(self) -> HsSearch:
        """Return the search over all words, with every ruling as an example."""
        return self.search_with([(row["hs6"], row["description"]) for row in self._rows("rulings.csv")])

    def search_with(self, rulings: Iterable[tuple[str, str]]) -> HsSearch:
        """Return a search with chosen rulings (code, words) as examples, to measure on the others."""
        texts = {code: text for code, text in self.headings.items() if len(code) == HEADING}
        everyday = [
            (row["codes"].split(), words) for row in self._rows("everyday.csv") for words in row["words"].split(";")
        ]
        phrases = [([row.code], words) for row in self.phrases for words in re.split("[;,]", row.phrase)]
        return HsSearch({**texts, **self.descriptions}, [*everyday, *phrases], rulings)

    def suggest(self, text: str, count: int = MOST_HINTS) -> tuple[HsHint, ...]:
        """Return up to `count` codes that may fit a description, best first, each with its reasons."""
        return tuple(self._hint(match) for match in self.search.find(text, count))

    def _hint(self, match: HsMatch) -> HsHint:
        code, heading = match.code, self.headings.get(match.code[:HEADING], "")
        ours = next((row for row in self.phrases if row.code == code), None)
        if ours is None:
            return HsHint(code, self.descriptions[code], heading, match.matched)
        return HsHint(code, ours.heading, heading, match.matched, ours.note, ours.source)

    def looked_at(self, code: str, edition: str = EDITION) -> Checked:
        """Check one code. `why`: `none`, `not digits`, `too short`, `too long`, `other edition`, `not in edition`."""
        digits = compact(code)
        if fault := _shape_fault(digits):
            return Checked(False, digits, Code.HS_MISSING, fault)
        if edition not in ("", EDITION) and fold(edition).replace(" ", "") != fold(EDITION).replace(" ", ""):
            return Checked(False, digits, Code.HS_NOT_IN_EDITION, "other edition")
        if digits[:FEWEST_DIGITS] not in self.descriptions:
            return Checked(False, digits, Code.HS_NOT_IN_EDITION, "not in edition")
        return Checked(True, digits)

    def check(self, item: str, code: str, edition: str = EDITION) -> Finding | None:
        """Return the finding about the code of one line; None when it is in the edition."""
        checked = self.looked_at(code, edition)
        if checked.ok:
            return None
        source = SOURCE if checked.code == Code.HS_MISSING else TABLE
        return finding(
            Code(checked.code), source=source, item=item, hs=checked.text, why=checked.why, edition=edition or EDITION
        )

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
