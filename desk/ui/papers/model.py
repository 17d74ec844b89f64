"""Which pieces a paper is wanted of, and the words for what came of it. No widgets."""

from __future__ import annotations

from collections.abc import Collection, Iterable
from enum import StrEnum

from PySide6.QtCore import QCoreApplication

from desk.domain.stands import Stand
from desk.session.papers.printing import LeftOut, Made, Paper, Wanted
from desk.session.pile.pile import Pile

GOING = (Stand.READY, Stand.LABELED)
MOST_SHOWN = 200


class Which(StrEnum):
    """Whose papers."""

    READY = "ready"
    ALL = "all"
    CHOSEN = "chosen"


def references_of(pile: Pile, which: Which, typed: str = "") -> tuple[frozenset[str] | None, tuple[str, ...]]:
    """The references wanted (None: all), and what was typed that no piece answers to.

    Chosen pieces are typed: order numbers (all pieces of the order), references, and ranges such as 1040-1050 of order
    numbers, with commas or blanks between.
    """
    if which is Which.ALL:
        return None, ()
    keys = [verdict.case.key for verdict in pile.verdicts.values()]
    if which is Which.READY:
        going = (verdict.case.key for verdict in pile.verdicts.values() if verdict.stands in GOING)
        return frozenset(key.reference for key in going), ()
    found: set[str] = set()
    unknown = []
    for word in typed.replace(",", " ").split():
        hits = {key.reference for key in keys if word in (key.order, key.reference)} or _between(word, keys)
        found |= hits
        if not hits:
            unknown.append(word)
    return frozenset(found), tuple(unknown)


def _between(word: str, keys: Collection[object]) -> set[str]:
    first, _, last = word.partition("-")
    if not (first.isdecimal() and last.isdecimal()):
        return set()
    low, high = int(first), int(last)
    return {
        key.reference  # type: ignore[attr-defined]
        for key in keys
        if key.order.isdecimal() and low <= int(key.order) <= high  # type: ignore[attr-defined]
    }


def wanted_of(pile: Pile, paper: Paper, only: frozenset[str] | None) -> Wanted:
    """A paper of the pile as it is now."""
    return Wanted(paper, pile.batch(), pile.terms, only)


def pieces_of(pile: Pile, references: Iterable[str]) -> list[int]:
    """The ids of pieces by their references."""
    wanted = set(references)
    return [number for number, verdict in pile.verdicts.items() if verdict.case.key.reference in wanted]


def count_words(made: Made) -> str:
    """How many pages of how many pieces, and how many were left out."""
    pages = say("1 page") if made.pages == 1 else say("{count} pages").format(count=made.pages)
    count = len(made.references)
    pieces = say("1 piece") if count == 1 else say("{count} pieces").format(count=count)
    left = say(", {count} left out").format(count=len(made.left_out)) if made.left_out else ""
    return say("{pages}, {pieces}{left}").format(pages=pages, pieces=pieces, left=left)


def left_out_words(left_out: Collection[LeftOut]) -> list[tuple[str, str]]:
    """Each reason, and the pieces it holds for; very many pieces are counted."""
    by_reason: dict[str, list[str]] = {}
    for one in left_out:
        by_reason.setdefault(one.why, []).append(one.reference)
    return [(why, _cut(references)) for why, references in by_reason.items()]


def _cut(references: list[str]) -> str:
    shown = ", ".join(references[:MOST_SHOWN])
    more = len(references) - MOST_SHOWN
    return say("{shown} and {count} more").format(shown=shown, count=more) if more > 0 else shown


def say(words: str) -> str:
    """Words of this screen, translated."""
    return QCoreApplication.translate("Papers", words)
