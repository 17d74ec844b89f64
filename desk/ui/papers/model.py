"""Which pieces a paper is for, and the words for the result. No widgets."""

from __future__ import annotations

import csv
from collections.abc import Collection, Iterable, Mapping
from enum import StrEnum
from itertools import chain

from desk.domain.orders.piece import PieceKey
from desk.domain.status import PieceStatus
from desk.session.papers.kinds import Paper
from desk.session.papers.making import LeftOut, MadePaper, PaperRequest
from desk.session.papers.paper_settings import PaperSettings
from desk.session.pile.earlier import ids_of_numbers
from desk.session.pile.pile import Pile
from desk.session.words.figures import counted, pieces_in_words

GOING = (PieceStatus.READY, PieceStatus.LABELED)
MOST_SHOWN = 200
LONGEST_RANGE = 5_000


class PaperScope(StrEnum):
    """Which pieces to print for."""

    READY = "ready"
    ALL = "all"
    CHOSEN = "chosen"


def references_of(pile: Pile, which: PaperScope, typed: str = "") -> tuple[frozenset[str], tuple[str, ...]]:
    """Return the references wanted, and the typed words that match no piece. Only typed numbers may have left.

    You can type order numbers (all pieces of the order), references, and ranges such as 1040-1050, separated by commas
    or spaces. A number with spaces in it is found between commas, one with a comma in double quotes.
    """
    if which is PaperScope.ALL:
        here = [verdict for verdict in pile.verdicts.values() if verdict.status is not PieceStatus.HANDED_OVER]
        return frozenset(verdict.case.key.reference for verdict in here), ()
    keys = [verdict.case.key for verdict in pile.verdicts.values()]
    if which is PaperScope.READY:
        going = (verdict.case.key for verdict in pile.verdicts.values() if verdict.status in GOING)
        return frozenset(key.reference for key in going), ()
    references: set[str] = set()
    unknown = []
    parts = _parts(typed)
    words = " ".join(parts).split()
    asked = [*parts, *words, *chain.from_iterable(map(_numbers, words))]
    if pile.unread and pile.bring(ids_of_numbers(pile.sitting, asked)):
        keys = [verdict.case.key for verdict in pile.verdicts.values()]
    names = {name for key in keys for name in (key.order, key.reference)}
    for word in chain.from_iterable([part] if part in names else part.split() for part in parts):
        hits = {key.reference for key in keys if word in (key.order, key.reference)} or _between(word, keys)
        references |= hits
        if not hits:
            unknown.append(word)
    return frozenset(references), tuple(unknown)


def as_typed(references: Iterable[str]) -> str:
    """Return references as a person would type them to choose them."""
    return ", ".join(map(_typed, references))


def _typed(reference: str) -> str:
    doubled = reference.replace('"', '""')
    return f'"{doubled}"' if "," in reference or '"' in reference else reference


def _parts(typed: str) -> list[str]:
    """Return the parts between the commas; double quotes keep a comma."""
    return [part.strip() for part in next(csv.reader([typed], skipinitialspace=True), [])]


def _between(word: str, keys: Collection[PieceKey]) -> set[str]:
    first, _, last = word.partition("-")
    if not (first.isdecimal() and last.isdecimal()):
        return set()
    low, high = int(first), int(last)
    return {key.reference for key in keys if key.order.isdecimal() and low <= int(key.order) <= high}


def _numbers(word: str) -> list[str]:
    """Return the numbers of a range such as 1040-1050, or 0101-0105; none for a longer range than anyone prints."""
    first, _, last = word.partition("-")
    if not (first.isdecimal() and last.isdecimal()) or int(last) - int(first) > LONGEST_RANGE:
        return []
    return [str(number).zfill(len(first)) for number in range(int(first), int(last) + 1)]


def wanted_of(pile: Pile, paper: Paper, only: frozenset[str] | None, settings: PaperSettings) -> PaperRequest:
    """Return a request for a paper of the current batch."""
    return PaperRequest(paper, pile.batch(), pile.terms, only, settings)


def pieces_of(pile: Pile, references: Iterable[str]) -> list[int]:
    """Return the ids of pieces by their references."""
    wanted = set(references)
    return [number for number, verdict in pile.verdicts.items() if verdict.case.key.reference in wanted]


def count_words(made: MadePaper) -> str:
    """Return the number of pages, pieces, and pieces left out, in words."""
    left = len(made.left_out) + len(made.failed)
    return f"{counted(made.pages, 'page')}, {pieces_in_words(len(made.references))}" + (
        f", {left} left out" if left else ""
    )


def left_out_words(left_out: Collection[LeftOut], numbers: Mapping[str, str]) -> list[tuple[str, str]]:
    """Return each reason with its pieces; a long list is cut, with a count. `numbers` are those people know, by reference."""
    by_reason: dict[str, list[str]] = {}
    for one in left_out:
        by_reason.setdefault(one.why, []).append(numbers.get(one.reference, one.reference))
    return [(why, _cut(pieces)) for why, pieces in by_reason.items()]


def _cut(numbers: list[str]) -> str:
    listed = ", ".join(numbers[:MOST_SHOWN])
    more = len(numbers) - MOST_SHOWN
    return f"{listed} and {more} more" if more > 0 else listed
