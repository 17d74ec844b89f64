"""What the hand-over list shows: the pieces by the way they go, each group with its sum, and one sum of all."""

from __future__ import annotations

from dataclasses import dataclass

from desk.session.papers import hand_over_content
from desk.session.pile import Pile

HEADS = ("Number", "Recipient", "Place", "Bills as", "Postage", "Form")
FIGURES = (3, 4)


@dataclass(frozen=True, slots=True)
class HandOverList:
    """Rows of text; `headings` are the places of the rows that begin a group. `total` and `notes` stand below."""

    rows: tuple[tuple[str, ...], ...]
    headings: tuple[int, ...]
    total: str
    notes: tuple[str, ...]


def hand_over_list(pile: Pile) -> HandOverList:
    """The list as the hand-over sheet carries it."""
    content = hand_over_content(pile.batch(), pile.terms)
    rows: list[tuple[str, ...]] = []
    headings = []
    for group in content.groups:
        headings.append(len(rows))
        rows.append((f"{group.heading} – {group.total}", "", "", "", "", ""))
        rows += [(row.order, row.recipient, row.place, row.billable, row.postage, row.mark) for row in group.rows]
    return HandOverList(tuple(rows), tuple(headings), content.total, content.notes)
