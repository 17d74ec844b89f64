"""Hand pieces over: they have left for the post, together. Undo brings them back."""

from __future__ import annotations

from collections.abc import Collection

from desk.domain.faults import Refused
from desk.domain.stands import Stand
from desk.session.contents.hand_over_contents import hand_over_content
from desk.session.money.entries import enter_hand_over
from desk.session.papers.bought_labels import refuse_unmatched
from desk.session.papers.stamps_on import put_stamps_on
from desk.session.pile.pile import Pile
from desk.session.sitting import Sitting
from desk.session.verdict.payment import Payment
from desk.session.verdict.verdict import Verdict
from desk.session.words.counts import pieces_in_words
from desk.store.tables import hand_overs

CAN_GO = (Stand.READY, Stand.LABELED)


def hand_pieces_over(sitting: Sitting, pile: Pile, piece_ids: Collection[int], step: str = "") -> None:
    """Mark these pieces as handed over, as one step.

    Refused for a piece that is neither ready nor labeled, and for one whose stamps are not on it yet.
    """
    if not piece_ids:
        raise Refused("There is nothing to hand over.")
    for number in piece_ids:
        _check(pile.verdicts[number])
    refuse_unmatched(sitting, pile, piece_ids)
    with sitting.store.act(step or f"Handed over: {pieces_in_words(len(piece_ids))}") as tx:
        hand_overs.hand_over(tx, piece_ids)
        enter_hand_over(tx, [(number, pile.verdicts[number]) for number in piece_ids], pile.terms.on)
    sitting.announce(sitting.store.last_changes)


def groups_of(pile: Pile) -> tuple[tuple[str, tuple[int, ...]], ...]:
    """Return the groups of the hand-over sheet: each heading with its pieces, in sheet order."""
    ids = {verdict.case.key.reference: number for number, verdict in pile.verdicts.items()}
    content = hand_over_content(pile.batch(), pile.terms)
    return tuple((group.heading, tuple(ids[row.order] for row in group.rows)) for group in content.groups)


def to_stamp(pile: Pile) -> tuple[int, ...]:
    """Return the ready pieces that wait for stamps."""
    return tuple(n for n, verdict in pile.verdicts.items() if verdict.stands is Stand.READY and verdict.stamps)


def stamp_all(sitting: Sitting, pile: Pile) -> int:
    """Mark all ready pieces as stamped, as one step, and return how many. Refused when there is none."""
    pieces = to_stamp(pile)
    if not pieces:
        raise Refused("No ready piece is waiting for stamps.")
    put_stamps_on(sitting, pile, pieces)
    return len(pieces)


def _check(verdict: Verdict) -> None:
    reference = verdict.case.key.reference
    if verdict.stands not in CAN_GO:
        raise Refused(f"{reference} is {verdict.stands}. Only what is ready or labeled can be handed over.")
    if verdict.stands is Stand.READY and verdict.payment is Payment.STAMPED:
        raise Refused(f"{reference} is waiting for its stamps. Mark it as stamped first.")
