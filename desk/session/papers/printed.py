"""Record what was printed for which piece: saved when the print queue accepts it, canceled when it must not be used."""

from __future__ import annotations

from collections.abc import Collection
from dataclasses import dataclass
from datetime import datetime
from itertools import groupby

from desk.domain.orders.piece import PieceKey
from desk.session.papers.kinds import NOTED_AS, Paper
from desk.session.sitting import Sitting
from desk.session.words.figures import counted, pieces_in_words
from desk.store.tables import papers

MOST_LISTED = 20_000  # pieces: two years of one page each, for a shop of 200 orders a week


@dataclass(frozen=True, slots=True)
class Printing:
    """What went to the printer in one step: the paper, the pieces on it, and when (UTC).

    `canceled_at` is None while the printing is valid; pieces canceled at another time are another printing.
    """

    paper: Paper
    at: datetime
    canceled_at: datetime | None
    references: tuple[str, ...]
    papers: tuple[int, ...]


def note_printed(sitting: Sitting, piece_ids: Collection[int], paper: Paper) -> None:
    """Record that a paper of each piece was sent to a printer. It can be canceled but not undone.

    A hand-over sheet belongs to no piece and is not recorded.
    """
    kind = NOTED_AS.get(paper)
    if kind is None or not piece_ids:
        return
    with sitting.store.act(f"Printed {paper.words} for {pieces_in_words(len(piece_ids))}") as tx:
        papers.printed(tx, piece_ids, kind)
    sitting.announce(sitting.store.last_changes)


def printings(sitting: Sitting) -> tuple[Printing, ...]:
    """Return the latest printings, newest first, each with all its pieces."""
    of = {kind: paper for paper, kind in NOTED_AS.items()}
    with sitting.store.reading() as conn:
        latest = papers.latest_printed(conn, MOST_LISTED + 1)
    if len(latest) > MOST_LISTED:  # the rest of the oldest printing may be missing, so canceling it would keep a part
        cut, _, _ = latest[-1]
        latest = [one for one in latest if (one[0].kind, one[0].at) != (cut.kind, cut.at)]
    printings_found = []
    for (kind, at, canceled_at), group in groupby(latest, lambda one: (one[0].kind, one[0].at, one[0].voided_at)):
        rows = list(group)[::-1]
        references = tuple(PieceKey(number, piece).reference for _, number, piece in rows)
        printings_found.append(Printing(of[kind], at, canceled_at, references, tuple(paper.id for paper, _, _ in rows)))
    return tuple(printings_found)


def cancel_printing(sitting: Sitting, printing: Printing) -> None:
    """Cancel a printing that must not be used. Raises Refused when it was canceled before."""
    count = counted(len(printing.papers), "printing")
    with sitting.store.act(f"Canceled {printing.paper.words}: {count}") as tx:
        for number in printing.papers:
            papers.void(tx, number)
    sitting.announce(sitting.store.last_changes)


def void_papers(sitting: Sitting, piece_ids: Collection[int], paper: Paper) -> int:
    """Cancel every valid printing of that paper for these pieces; return how many there were."""
    held = [one for one in holding(sitting, paper) if one.piece_id in piece_ids]
    if held:
        with sitting.store.act(f"Canceled {paper.words}: {counted(len(held), 'printing')}") as tx:
            for one in held:
                papers.void(tx, one.id)
        sitting.announce(sitting.store.last_changes)
    return len(held)


def holding(sitting: Sitting, paper: Paper) -> list[papers.PrintedPaper]:
    """Return the printings of that paper that were not canceled, oldest first."""
    return [one for one in history(sitting, paper) if one.voided_at is None]


def history(sitting: Sitting, paper: Paper, piece_id: int | None = None) -> list[papers.PrintedPaper]:
    """Return every printing of that paper, or those of one piece, including canceled ones, oldest first."""
    kind = NOTED_AS.get(paper)
    with sitting.store.reading() as conn:
        return [one for one in papers.all_papers(conn, piece_id) if one.kind is kind]


def printed_at(sitting: Sitting, paper: Paper) -> dict[int, datetime]:
    """Return when the last valid printing was made, by piece id (UTC)."""
    return {one.piece_id: one.at for one in holding(sitting, paper)}
