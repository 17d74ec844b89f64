"""Record what was printed for which piece: saved when the print queue accepts it, canceled when it must not be used."""

from __future__ import annotations

from collections.abc import Collection
from datetime import datetime

from desk.session.papers.kinds import NOTED_AS, Paper
from desk.session.sitting import Sitting
from desk.session.words.counts import pieces_in_words
from desk.session.words.figures import counted
from desk.store.tables import papers


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
