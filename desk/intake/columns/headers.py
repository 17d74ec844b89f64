"""Match headers of weights files, products, and mailers by meaning: which column is which of our fields.

Only certain matches are used without asking: our own name of a field, or a word the trade uses only for that field,
ignoring case, accents, spaces, and punctuation. Similar names become suggestions, shown with sample values. Order lists
have their own rules, in `order_headers`.
"""

from __future__ import annotations

import unicodedata
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field
from functools import lru_cache

from desk.intake.columns.header_words import WEIGHT_WORDS
from desk.intake.columns.units import WORDS_OF, at_odds, strange_unit, unit_in, without_unit
from desk.intake.columns.value_kinds import fits
from desk.tables.faults_found import FaultsFound

_NEAR = 71  # of 100; below it rapidfuzz's score is chance

_SHORTEST = 3  # letters of a header worth a suggestion; shorter ones resemble everything


@lru_cache(maxsize=4096)  # saves 1.5% of reading orders
def folded(header: str) -> str:
    """Return a header ready to compare: no case, accents, spaces, or punctuation; only letters and digits."""
    plain = unicodedata.normalize("NFKD", header.casefold())
    return "".join(char for char in plain if char.isalnum())


def by_word(words: Mapping[str, str]) -> Mapping[str, str]:
    """Return folded word -> field, from field -> words separated by bars; the field's own name counts too."""
    return {folded(word): ours for ours, line in words.items() for word in (ours, *filter(None, line.split("|")))}


WEIGHT_FIELDS = by_word(WEIGHT_WORDS)


def meaning(header: str, words: Mapping[str, str]) -> str:
    """Return the field a header certainly means, from folded word -> field; empty when there is none.

    A measured field may have its unit after its name.
    """
    if ours := words.get(folded(header), ""):
        return ours
    ours = words.get(folded(without_unit(header)[0]), "")
    return ours if ours in WORDS_OF and unit_in(header, ours) else ""


@dataclass(frozen=True, slots=True)
class Suggestion:
    """A column that may be one of our fields; `values` are its first few values."""

    ours: str
    header: str
    values: tuple[str, ...]
    place: int = field(default=-1, compare=False)

    def words(self) -> str:
        """Return it as an error message lists it: `recipient = "Ship too" (Ada Finch, Bo Reed)`."""
        examples = examples_in_words(self.values)
        return f'{self.ours} = "{self.header}"' + (f" ({examples})" if examples else "")


def examples_in_words(values: Iterable[str]) -> str:
    """Return cells as a message lists them: on one line, each cut to 24 characters."""
    lines = (" ".join(value.split()) for value in values)
    return ", ".join(line if len(line) <= 24 else line[:23] + "…" for line in lines)


@dataclass(frozen=True, slots=True)
class Columns:
    """Where each of our fields is in a row; `doubted` fields have no position, and a fault gives the reason.

    `units` are the units named in headers, by field, as files spell them.
    """

    header: tuple[str, ...]
    places: Mapping[str, int]
    doubted: frozenset[str] = frozenset()
    units: Mapping[str, str] = field(default_factory=dict)
    _in_row: tuple[str, ...] = field(init=False, repr=False, compare=False)  # the field of each column, empty for none
    # further fields that share a column
    _again: tuple[tuple[str, int], ...] = field(init=False, repr=False, compare=False)

    def __post_init__(self) -> None:
        row = [""] * (max(self.places.values(), default=-1) + 1)
        again = []
        for ours, place in self.places.items():
            if row[place]:
                again.append((ours, place))
            else:
                row[place] = ours
        object.__setattr__(self, "_in_row", tuple(row))
        object.__setattr__(self, "_again", tuple(again))

    def missing(self, wanted: Iterable[str]) -> list[str]:
        """Return the fields of `wanted` that have no column."""
        return [ours for ours in wanted if ours not in self.places and ours not in self.doubted]

    def cell(self, cells: Sequence[str], ours: str) -> str:
        """Return the text of a field in a row; empty when there is no such column or the row is too short."""
        place = self.places.get(ours)
        return cells[place] if place is not None and place < len(cells) else ""

    def texts(self, cells: Sequence[str]) -> dict[str, str]:
        """Return the filled cells of a row by field."""
        # Loops over the row, not the fields, because this runs for every row of a long list.
        by_field = {ours: text for ours, text in zip(self._in_row, cells, strict=False) if text and ours}
        for ours, place in self._again:
            if place < len(cells) and cells[place]:
                by_field[ours] = cells[place]
        return by_field

    def name(self, ours: str) -> str:
        """Return the header as written in the file, or our own name."""
        place = self.places.get(ours)
        return ours if place is None else self.header[place]


@dataclass(frozen=True, slots=True)
class Meanings:
    """What a header row is matched with: `words` maps folded words to our fields; `mapped` (field -> header) wins."""

    words: Mapping[str, str]
    mapped: Mapping[str, str] = field(default_factory=dict)


def match_headers(header: Sequence[str], meanings: Meanings, faults: FaultsFound, line: int) -> Columns:
    """Return the fields of a header row, which is on `line`.

    Adds a fault for a mapped header that does not appear exactly once, for two columns with the same meaning, and for
    an impossible unit in a header.
    """
    places: dict[str, int] = {}
    doubted = set()
    for ours in dict.fromkeys(meanings.words.values()):
        if ours in meanings.mapped and not meanings.mapped[ours]:
            continue  # by the mapping, no column is this field
        if wanted := meanings.mapped.get(ours, ""):
            found = _called(header, wanted)
            expected = f"one column called {wanted!r}, as the mapping says for {ours}; {len(found) or 'none'} is there"
        else:
            found = _certain(header, ours, meanings)
            names = " and ".join(repr(header[place]) for place in found)
            expected = f"one column for {ours}; {names} both mean it, a mapping says which"
        if len(found) == 1:
            places[ours] = found[0]
        elif found or wanted:
            faults.add(line, wanted or header[found[0]], "", expected)
            doubted.add(ours)
    return Columns(tuple(header), places, frozenset(doubted), _units(header, places, faults, line))


def _units(header: Sequence[str], places: Mapping[str, int], faults: FaultsFound, line: int) -> dict[str, str]:
    """Return the unit named in each header, by field; adds a fault for an unknown unit and for conflicting ones."""
    units = {ours: unit for ours, place in places.items() if (unit := unit_in(header[place], ours))}
    for ours, place in places.items():
        if word := strange_unit(header[place], ours):
            one_of = dict.fromkeys(map(str, WORDS_OF[ours].values()))
            faults.add(line, header[place], word, f"one of the units of a {ours}: {', '.join(one_of)}")
    for ours, other in at_odds(units):
        faults.add(line, header[places[ours]], units[ours], f"{units[other]}, as {header[places[other]]!r} says")
    return units


def _called(header: Sequence[str], wanted: str) -> list[int]:
    """Return the positions of a header: exact matches if any, else folded."""
    exact = [place for place, name in enumerate(header) if name == wanted.strip()]
    return exact or [place for place, name in enumerate(header) if name and folded(name) == folded(wanted)]


def _certain(header: Sequence[str], ours: str, meanings: Meanings) -> list[int]:
    """Return the columns that certainly are this field; our own name beats other words."""
    mapped = {folded(name) for name in meanings.mapped.values()}
    places = [place for place, name in enumerate(header) if meaning(name, meanings.words) == ours]
    places = [place for place in places if folded(header[place]) not in mapped]
    own = [place for place in places if folded(ours) in (folded(header[place]), folded(without_unit(header[place])[0]))]
    return own or places


def suggestions(
    columns: Columns, wanted: Sequence[str], fields: Mapping[str, str], rows: Sequence[Sequence[str]]
) -> tuple[Suggestion, ...]:
    """Return, for each wanted field, the most similar unused column whose values fit it, with samples."""
    from rapidfuzz import fuzz

    taken = set(columns.places.values())
    best: dict[str, tuple[float, int]] = {}
    for place, name in enumerate(columns.header):
        if place in taken or len(folded(name)) < _SHORTEST or not wanted:
            continue
        values = _values(rows, place)
        likeness = dict.fromkeys([ours for ours in wanted if fits(ours, values)], 0.0)
        if not likeness:
            continue
        for word, ours in fields.items():
            if ours in likeness:
                likeness[ours] = max(likeness[ours], fuzz.WRatio(folded(name), word))
        ours = max(likeness, key=lambda key: likeness[key])
        if likeness[ours] > max(_NEAR, best.get(ours, (0.0, 0))[0]):
            best[ours] = (likeness[ours], place)
    return tuple(
        Suggestion(ours, columns.header[best[ours][1]], _first_values(rows, best[ours][1]))
        for ours in wanted
        if ours in best
    )


def _values(rows: Sequence[Sequence[str]], place: int) -> list[str]:
    return [cells[place] for cells in rows if place < len(cells) and cells[place]]


def _first_values(rows: Sequence[Sequence[str]], place: int) -> tuple[str, ...]:
    return tuple(dict.fromkeys(_values(rows, place)))[:3]
