"""Answer looks: "seen, it is right". A stop cannot be answered; its cause has to go."""

from __future__ import annotations

from collections.abc import Iterable

from desk.session.sitting import Sitting
from desk.store import answers


def answer_looks(sitting: Sitting, piece_id: int, codes: Iterable[str], *, reference: str) -> None:
    """Keep that these looks of a piece were seen and found right."""
    with sitting.store.act(f"Answer {reference}") as tx:
        for code in codes:
            answers.answer(tx, piece_id, code)
    sitting.announce(sitting.store.last_changes)
