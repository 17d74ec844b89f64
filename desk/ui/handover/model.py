"""The contents of the hand-over list: pieces grouped by how they go, with sums."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from desk.session.contents.hand_over_contents import hand_over_content
from desk.session.pile.days_that_left import DayThatLeft
from desk.session.pile.pile import Pile
from desk.session.verdict.price_age import age_of

HEADS = ("Number", "Recipient", "Destination", "Billed as", "Postage", "Form, extras")
FIGURES, POSTAGE = (3, 4), 4


@dataclass(frozen=True, slots=True)
class HandOverList:
    """Rows of text; `headings` are the indexes of group heading rows. `total` and `notes` are shown below.

    `ages` are the remarks for outdated postage, by row: short and in words.
    """

    rows: tuple[tuple[str, ...], ...]
    headings: tuple[int, ...]
    total: str
    notes: tuple[str, ...]
    ages: Mapping[int, tuple[str, str]]


def hand_over_list(pile: Pile, day: DayThatLeft | None = None) -> HandOverList:
    """Return the list, grouped as on the hand-over sheet: what is ready now, or what left on a day."""
    batch = pile.batch()
    content = hand_over_content(batch, pile.terms, day)
    rows: list[tuple[str, ...]] = []
    headings = []
    for group in content.groups:
        headings.append(len(rows))
        rows.append((f"{group.heading} – {group.total}", "", "", "", "", ""))
        rows += [(row.number, row.recipient, row.place, row.billable, row.postage, row.mark) for row in group.rows]
    if day is not None:
        return HandOverList(tuple(rows), tuple(headings), content.total, content.notes, {})
    of = {verdict.case.number: age_of(verdict.offer, pile.terms.on) for verdict in batch.verdicts}
    known = ((at, of[row[0]]) for at, row in enumerate(rows) if row[0] in of)
    ages = {at: (age.short, age.words) for at, age in known if age.short}
    return HandOverList(tuple(rows), tuple(headings), content.total, content.notes, ages)
