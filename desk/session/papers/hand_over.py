"""Hand pieces over: they have left for the post, together. Undo brings them back."""

from __future__ import annotations

from collections.abc import Collection, Iterable
from dataclasses import dataclass

from desk.domain.faults import Refused
from desk.domain.status import PieceStatus
from desk.session.contents.hand_over_contents import hand_over_content
from desk.session.money.entries import enter_hand_over
from desk.session.money.stock import use_materials
from desk.session.papers.bought_labels import refuse_unmatched, unmatched_of
from desk.session.papers.stamps_on import put_stamps_on, record_stamps, sets_to_put_on
from desk.session.pile.days_that_left import DayThatLeft
from desk.session.pile.pile import Pile
from desk.session.sitting import Sitting
from desk.session.verdict.payment import Payment
from desk.session.verdict.verdict import Verdict
from desk.session.words.figures import pieces_in_words, some_of
from desk.session.words.sentences import sentence
from desk.session.words.statuses import status_said
from desk.store.tables import hand_overs
from desk.store.transaction import Transaction

CAN_GO = (PieceStatus.READY, PieceStatus.LABELED)


def hand_pieces_over(sitting: Sitting, pile: Pile, piece_ids: Collection[int], step: str = "") -> None:
    """Mark these pieces as handed over, as one step.

    Refused for a piece that is neither ready nor labeled, that has a customs issue open, or whose stamps are not on yet.
    """
    if not piece_ids:
        raise Refused("There is nothing to hand over.")
    for number in piece_ids:
        _check(pile.verdicts[number])
    refuse_unmatched(sitting, pile, piece_ids)
    with sitting.store.act(step or f"Handed over: {pieces_in_words(len(piece_ids))}") as tx:
        _record(tx, pile, piece_ids)
    sitting.announce(sitting.store.last_changes)


@dataclass(frozen=True, slots=True)
class EverythingLeft:
    """How many pieces were handed over, and which stay: not matched, without stamps, or held by customs."""

    count: int
    unmatched: tuple[str, ...] = ()
    unstamped: tuple[str, ...] = ()
    at_customs: tuple[str, ...] = ()


def hand_everything_over(sitting: Sitting, pile: Pile) -> EverythingLeft:
    """Mark everything ready as handed over, with its stamps on, as one step.

    A piece stays when only matched packages may leave and its label was not matched, when no stamps are left for it, or
    when it has a customs issue open. Refused when nothing can go.
    """
    ready = {number: verdict for number, verdict in pile.verdicts.items() if verdict.status in CAN_GO}
    at_customs = {number for number, verdict in ready.items() if verdict.customs_open}
    unmatched = unmatched_of(sitting, pile, ready)
    unstamped = {number for number, verdict in ready.items() if _lacks_stamps(verdict)}
    going = [number for number in ready if number not in unmatched | unstamped | at_customs]
    staying = (unmatched - at_customs, unstamped - unmatched - at_customs, at_customs)
    done = EverythingLeft(len(going), *(_numbers(pile, ids) for ids in staying))
    if not going:
        raise Refused("Nothing is ready to hand over." + staying_words(done))
    sets = sets_to_put_on(pile, (number for number in going if _waits_for_stamps(pile.verdicts[number])))
    with sitting.store.act(f"Everything ready handed over: {pieces_in_words(len(going))}") as tx:
        record_stamps(tx, pile, sets)
        _record(tx, pile, going)
    sitting.announce(sitting.store.last_changes)
    return done


def staying_words(left: EverythingLeft) -> str:
    """Return which ready pieces stay and why, to follow another sentence; empty when none does."""
    reasons = (
        (left.unmatched, "Label not matched yet"),
        (left.unstamped, "Your stamps don't cover the postage"),
        (left.at_customs, "Customs issue to fix"),
    )
    return "".join(f" {why} {some_of(names)}." for names, why in reasons if names)


def groups_of(pile: Pile, day: DayThatLeft | None = None) -> tuple[tuple[str, tuple[int, ...]], ...]:
    """Return the groups of the hand-over sheet, current or of a day: each heading with its pieces, in sheet order."""
    ids = {verdict.case.key.reference: number for number, verdict in pile.verdicts.items()}
    content = hand_over_content(pile.batch(), pile.terms, day)
    return tuple((group.heading, tuple(ids[row.reference] for row in group.rows)) for group in content.groups)


def to_stamp(pile: Pile) -> tuple[int, ...]:
    """Return the ready pieces that wait for stamps."""
    return tuple(n for n, verdict in pile.verdicts.items() if verdict.status is PieceStatus.READY and verdict.stamps)


def stamp_all(sitting: Sitting, pile: Pile) -> int:
    """Mark all ready pieces as stamped, as one step, and return how many. Refused when there is none."""
    pieces = to_stamp(pile)
    if not pieces:
        raise Refused("No ready piece is waiting for stamps.")
    put_stamps_on(sitting, pile, pieces)
    return len(pieces)


def _record(tx: Transaction, pile: Pile, piece_ids: Collection[int]) -> None:
    hand_overs.hand_over(tx, piece_ids)
    going = [(number, pile.verdicts[number]) for number in piece_ids]
    enter_hand_over(tx, going, pile.terms.on)
    use_materials(tx, going)


def _waits_for_stamps(verdict: Verdict) -> bool:
    return verdict.status is PieceStatus.READY and verdict.payment is Payment.STAMPED


def _lacks_stamps(verdict: Verdict) -> bool:
    return _waits_for_stamps(verdict) and verdict.stamps is None


def _numbers(pile: Pile, piece_ids: Iterable[int]) -> tuple[str, ...]:
    return tuple(pile.verdicts[one].case.number for one in sorted(piece_ids))


def _check(verdict: Verdict) -> None:
    number = verdict.case.number
    if verdict.status not in CAN_GO:
        raise Refused(f"{status_said(number, verdict.status)}. Only what is ready or labeled can be handed over.")
    if verdict.customs_open:
        raise Refused(f"{number} has a customs issue to fix first: {sentence(verdict.customs_open[0])}")
    if _waits_for_stamps(verdict):
        raise Refused(f"{number} is waiting for its stamps. Mark it as stamped first.")
