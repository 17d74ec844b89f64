"""Record weights: from the scale, typed, from a file, or copied from a matching piece.

A weight never moves to another piece, and a paid piece keeps its weight (`store.tables.pieces.refuse_paid`).
"""

from __future__ import annotations

from collections.abc import Collection, Hashable, Iterable, Sequence
from dataclasses import dataclass, replace
from datetime import datetime
from typing import TypeVar

from desk.domain.faults import Refused
from desk.domain.orders.piece import PieceKey, Weighing
from desk.domain.weight import Shown
from desk.session.pile.packing import Placement
from desk.session.pile.weighing_result import NotUsed, Weighed
from desk.session.sitting import Sitting
from desk.session.unreported import report_later
from desk.session.words.figures import pieces_in_words
from desk.store.tables import pieces

Piece = TypeVar("Piece", bound=Hashable)


@dataclass(frozen=True, slots=True)
class Copied:
    """How many pieces were given a weight, and the numbers of those skipped because their postage is on."""

    count: int
    left_out: tuple[str, ...] = ()


def fold_twice(rows: Iterable[tuple[Piece, Weighing]]) -> dict[Piece, Weighing]:
    """Return one weighing per piece: the later one counts, and keeps the reading of the earlier one."""
    folded: dict[Piece, Weighing] = {}
    for key, weighing in rows:
        before = folded.get(key)
        folded[key] = weighing if before is None else replace(weighing, earlier=before.shown)
    return folded


def weigh(sitting: Sitting, rows: Sequence[tuple[PieceKey, Weighing]]) -> Weighed:
    """Record the weighings of a file as one step. The same weighing again is not a new one."""
    folded = fold_twice(rows)
    with sitting.store.act(
        f"Weighed {pieces_in_words(len(folded))}", at_bench=len(folded) == 1, count=len(folded)
    ) as tx:
        ids = pieces.ensure_pieces(tx, folded)
        keys = {number: key for key, number in ids.items()}
        if len(folded) == 1:
            tx.step = f"Weighed {pieces.number_of(tx.conn, pieces.piece(tx.conn, min(keys)))}" if keys else tx.step
        wanted = fold_twice((number, folded[key]) for key, number in ids.items())
        recorded = pieces.record_many(tx, wanted)
        stay = {piece.id: piece.weighing for piece in pieces.some_pieces(tx.conn, recorded.kept)}
        changed = tuple(keys[number] for number in recorded.changed)
        report_later(tx, pieces=changed)
    sitting.announce(sitting.store.last_changes)
    return Weighed(
        fresh=tuple(keys[number] for number in recorded.new),
        changed=changed,
        strangers=tuple(key for key in folded if key not in ids),
        not_used=tuple(NotUsed(keys[number], stay[number], wanted[number]) for number in recorded.kept),
    )


def record_weight(sitting: Sitting, piece_id: int, shown: Shown, placement: Placement, *, again: bool = True) -> bool:
    """Record a weight at the bench; it is on disk when this returns. Return False when the piece has that weight
    already.

    `again`: the item was put on again, so a weight that differs by more than a step replaces the earlier one, which is
    kept. Refused when the piece is paid for. KeyError when there is no such piece.
    """
    with sitting.store.act("Weighed a piece", at_bench=True) as tx:
        stored = pieces.piece(tx.conn, piece_id)
        tx.step = f"Weighed {pieces.number_of(tx.conn, stored)}"
        pieces.refuse_paid(tx.conn, [stored], "weight")
        before = stored.weighing
        fresh = placement.weighing(shown)
        if before is not None:
            earlier = before.shown if again and _differs(before.shown, shown) else before.earlier
            fresh = replace(fresh, earlier=earlier)
        if fresh != before:
            pieces.record(tx, piece_id, fresh)
    if fresh == before:
        return False
    sitting.announce(sitting.store.last_changes)
    return True


def describe(sitting: Sitting, piece_id: int, placement: Placement) -> None:
    """Save the mailer, size and feel of a piece. Refused when it is paid for."""
    with sitting.store.act("Mailer set", at_bench=True) as tx:
        stored = pieces.piece(tx.conn, piece_id)
        pieces.refuse_paid(tx.conn, [stored], "mailer")
        before = stored.weighing
        is_another = placement.mailer != (stored.mailer_override or (before.mailer if before else ""))
        tx.step = f"{'Mailer set' if is_another else 'Packing saved'} for {pieces.number_of(tx.conn, stored)}"
        if is_another:
            pieces.set_mailer(tx, [piece_id], placement.mailer)
        if before is not None:
            described = replace(
                before,
                mailer=placement.mailer,
                size=placement.size,
                stiff=placement.stiff,
                uneven=placement.uneven,
                mailer_guessed=placement.guessed,
            )
            if described != before:
                pieces.record(tx, piece_id, described)
    sitting.announce(sitting.store.last_changes)


def copy_weight(sitting: Sitting, piece_id: int, others: Collection[int], shown: Shown) -> Copied:
    """Give a piece's weight to other pieces, with its mailer and feel.

    Paid pieces are skipped. Refused when that leaves none, or when there is no weight to copy. KeyError when there is
    no such piece.
    """
    with sitting.store.act("Weight copied", at_bench=True, count=len(others)) as tx:
        source = pieces.piece(tx.conn, piece_id)
        if source.weighing is None:
            raise Refused("It has no weight yet. Weigh it first.")
        number = pieces.number_of(tx.conn, source)
        copied = replace(source.weighing, shown=shown, earlier=None, copied_from=source.key.reference)
        if source.mailer_override:
            copied = replace(copied, mailer=source.mailer_override)
        asked = pieces.some_pieces(tx.conn, others)
        takers = [stored.id for stored in asked if not stored.is_paid]
        if asked and not takers:
            raise Refused("The identical pieces already have their postage on, so their weights stay.")
        left_out = [pieces.number_of(tx.conn, stored) for stored in asked if stored.is_paid]
        tx.step = f"Weight of {number} copied to {pieces_in_words(len(takers))}"
        pieces.record_many(tx, dict.fromkeys(takers, copied))
    sitting.announce(sitting.store.last_changes)
    return Copied(len(takers), tuple(left_out))


def recorded_at(sitting: Sitting, piece_id: int) -> datetime | None:
    """Return when the weighing in use was recorded (UTC); None when there is none."""
    with sitting.store.reading() as conn:
        return pieces.piece(conn, piece_id).weighed_at


def _differs(one: Shown, other: Shown) -> bool:
    return abs(one.weight.grams - other.weight.grams) > max(one.step.grams, other.step.grams)
