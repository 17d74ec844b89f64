"""Record stamps put on pieces, which reduces the stock, and stamps taken off again, which restores it."""

from __future__ import annotations

from collections import Counter
from collections.abc import Collection, Iterable, Mapping
from dataclasses import dataclass

from desk.domain.faults import Refused
from desk.domain.money import Money
from desk.domain.shop.stamp import StampKind, StampStock
from desk.rates.stamps.stamps import StampCount, StampSet
from desk.session.pile.batch import Batch, StampSort, stamps_to_put_on
from desk.session.pile.pile import Pile
from desk.session.sitting import Sitting
from desk.session.verdict.verdict import Verdict
from desk.session.words.figures import pieces_in_words
from desk.session.words.sentences import sentence
from desk.session.words.stamp_names import counts_for, stamp_counts
from desk.store.tables import hand_overs, movements, pieces
from desk.store.tables.movements import CountedKind
from desk.store.transaction import Transaction


@dataclass(frozen=True, slots=True)
class StampTotal:
    """One kind of stamp for a whole batch: how many it needs, and how many will be left."""

    kind: StampKind
    value: Money | None  # the face value of `face` stamps
    takes: int
    left: int

    @property
    def runs_low(self) -> bool:
        """True when less is left than another such batch needs (common practice, no source)."""
        return self.left < self.takes

    @property
    def words(self) -> str:
        """`12 Forever, 30 left`; with `runs low` where it does."""
        low = ": runs low" if self.runs_low else ""
        return f"{self.kinds}, {self.left} left{low}"

    @property
    def kinds(self) -> str:
        """`12 Forever`."""
        return stamp_counts([StampCount(self.kind, self.value, self.takes)])

    @property
    def left_words(self) -> str:
        """`30 Forever left`."""
        return f"{stamp_counts([StampCount(self.kind, self.value, self.left)])} left"

    @property
    def counts_for(self) -> str:
        """The text drawn on one of these stamps."""
        return counts_for(self.kind, self.value)


def pile_stamps(batch: Batch) -> tuple[StampTotal, ...]:
    """Return the stamps to set out, in drawer order: those of all pieces not yet stamped or stopped."""
    return stamp_totals(stamps_to_put_on(batch.verdicts), batch.drawer_left)


def stamp_totals(takes: Counter[StampSort], drawer_left: Iterable[StampStock]) -> tuple[StampTotal, ...]:
    """Return the totals of stamps already counted, in drawer order."""
    left: Counter[StampSort] = Counter()
    for stock in drawer_left:
        left[stock.kind, stock.value] += stock.count
    return tuple(StampTotal(*which, takes[which], count) for which, count in left.items() if takes[which])


def put_stamps_on(sitting: Sitting, pile: Pile, piece_ids: Collection[int]) -> None:
    """Record that the stamps shown for these pieces are on them now, as one step.

    Refused when a piece has no stamps to put on, is stopped or set aside, has its postage already, or was weighed again
    at another bench meanwhile.
    """
    sets = sets_to_put_on(pile, piece_ids)
    with sitting.store.act(_step(pile, sets)) as tx:
        record_stamps(tx, pile, sets)
    sitting.announce(sitting.store.last_changes)


def sets_to_put_on(pile: Pile, piece_ids: Iterable[int]) -> dict[int, StampSet]:
    """Return the stamps shown for these pieces, by piece id; refused for a piece that can't be stamped."""
    return {number: _to_put_on(pile.verdicts[number]) for number in piece_ids}


def record_stamps(tx: Transaction, pile: Pile, sets: Mapping[int, StampSet]) -> None:
    """Record within a step that these stamps are on; refused for a piece weighed again at another bench."""
    _refuse_moved(pieces.some_pieces(tx.conn, sets), pile)
    hand_overs.put_postage_on(tx, sets)
    for number, chosen in sets.items():
        movements.move(tx, CountedKind.STAMP, _taken(chosen), "used", number)


def take_stamps_off(sitting: Sitting, pile: Pile, piece_ids: Collection[int]) -> None:
    """Record that the postage on these pieces is off again, with stamps back in the drawer, as one step.

    Refused for a piece without postage on it, and for one that has left.
    """
    for number in piece_ids:
        case = pile.verdicts[number].case
        if case.handed_over:
            raise Refused(f"{case.number} has been handed over. Its postage stays on it.")
        if not case.postage_on:
            raise Refused(f"{case.number} has no postage on it.")
    all_stamped = all(pile.verdicts[number].case.stamps_on for number in piece_ids)
    what = "Stamps" if all_stamped else "Postage"
    with sitting.store.act(f"{what} taken off {pieces_in_words(len(piece_ids))}") as tx:
        used = movements.used_by_piece(tx.conn, CountedKind.STAMP, piece_ids)
        hand_overs.take_postage_off(tx, piece_ids)
        for number, counts in used.items():
            movements.move(tx, CountedKind.STAMP, counts, "taken off", number)
    sitting.announce(sitting.store.last_changes)


def _refuse_moved(stored: Iterable[pieces.StoredPiece], pile: Pile) -> None:
    """Refuse when the stored piece is newer than the one shown: the stamps shown may be wrong."""
    for piece in stored:
        if piece.is_paid:
            raise Refused(f"{pile.verdicts[piece.id].case.number} already has its postage on.")
        if piece.weighing != pile.verdicts[piece.id].case.weighing:
            raise Refused(
                f"{pile.verdicts[piece.id].case.number} was weighed again at another bench. "
                "Check its stamps, then try again."
            )


def _step(pile: Pile, sets: Mapping[int, StampSet]) -> str:
    if len(sets) == 1:
        ((number, chosen),) = sets.items()
        return f"Stamps on {pile.verdicts[number].case.number}: {stamp_counts(chosen.stamps)}"
    return f"Stamps on {pieces_in_words(len(sets))}"


def _to_put_on(verdict: Verdict) -> StampSet:
    number = verdict.case.number
    if verdict.case.is_paid:
        raise Refused(f"{number} already has its postage.")
    if verdict.is_stopped:
        raise Refused(f"{number} can't be mailed like this. Fix its issue first.")
    if to_fix := (*verdict.customs_open, *verdict.to_fix):
        raise Refused(f"{number} has an issue to fix: {sentence(to_fix[0])}")
    if verdict.case.beside is not None:
        raise Refused(f"{number} is {verdict.case.beside}. Put it back first.")
    if verdict.stamps is None:
        raise Refused(f"{number} has no stamps to put on. Weigh it, or pay it another way.")
    return verdict.stamps


def _taken(chosen: StampSet) -> dict[str, int]:
    return {movements.stamp_name(StampStock(kind, number, value)): -number for kind, value, number in chosen.stamps}
