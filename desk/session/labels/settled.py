"""Which label goes on which package: your own matches win, and a package that can't take a label is refused."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from desk.domain.faults import Refused
from desk.session.labels.matching import LabelMatch, Sureness
from desk.session.pile.pile import Pile
from desk.session.verdict.verdict import Verdict
from desk.session.words.sentences import sentence
from desk.session.words.statuses import status_said


def label_refusal(verdict: Verdict) -> str:
    """Return why a bought label may not go on this package, as a sentence; empty when it may."""
    number = verdict.case.number
    if verdict.case.beside is not None:
        return f"{status_said(number, verdict.case.beside)}. Put it back first if this label is for it."
    if verdict.case.handed_over:
        return f"{number} was handed over."
    if verdict.customs_open:
        return f"{number} has a customs issue to fix first: {sentence(verdict.customs_open[0])}"
    return ""


def settled_labels(pile: Pile, matches: Sequence[LabelMatch], typed: Mapping[int, int]) -> dict[int, int]:
    """Return the piece id by label index; a typed number wins.

    Refused when none is matched, when two labels are for one package, or when a package can't take a label.
    """
    settled = {index: one.piece_id for index, one in enumerate(matches) if one.piece_id is not None} | dict(typed)
    if not settled:
        raise Refused("No label is matched yet. Type a number for at least one.")
    if len(set(settled.values())) < len(settled):
        raise Refused("Two labels are for the same package. Type another number for one.")
    for why in filter(None, (label_refusal(pile.verdicts[piece_id]) for piece_id in settled.values())):
        raise Refused(why)
    return settled


def waiting_labels(matches: Sequence[LabelMatch], typed: Mapping[int, int]) -> list[int]:
    """Return the indexes of labels that wait for a number. Pages set aside don't, but one can be typed for them."""
    return [
        index
        for index, one in enumerate(matches)
        if one.piece_id is None and one.sureness is not Sureness.ASIDE and index not in typed
    ]
