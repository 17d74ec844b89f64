"""Record a weight at the bench, and what is said about mailer, size and feel; copy it to pieces that are alike."""

from __future__ import annotations

from collections.abc import Collection
from dataclasses import dataclass, replace
from datetime import datetime

from desk.domain.faults import Refused
from desk.domain.piece import Weighing
from desk.domain.weight import Shown
from desk.session.bench.weigh_piece import weigh_piece
from desk.session.pile.packing import Placement
from desk.session.sitting import Sitting
from desk.store import pieces


def record_weight(sitting: Sitting, piece_id: int, shown: Shown, placement: Placement, *, again: bool = True) -> bool:
    """Keep a weight; on disk when this returns. False when it is the weight the piece has already.

    `again`: not the same item settled anew, so a weight that differs by more than a step is kept as the earlier one.
    Refused when postage is on the piece. KeyError when there is no such piece.
    """
    with sitting.store.reading() as conn:
        stored = pieces.piece(conn, piece_id)
    _refuse_paid(stored)
    before = stored.weighing
    fresh = Weighing(shown, placement.mailer, placement.size, placement.stiff, placement.uneven)
    if before is not None:
        kept = before.shown if again and _differs(before.shown, shown) else before.earlier
        fresh = replace(fresh, earlier=kept)
    if fresh == before:
        return False
    weigh_piece(sitting, piece_id, fresh)
    return True


def describe(sitting: Sitting, piece_id: int, placement: Placement) -> None:
    """Keep what a piece is put in, and how it feels if it is weighed already. Refused when postage is on it."""
    with sitting.store.reading() as conn:
        stored = pieces.piece(conn, piece_id)
    _refuse_paid(stored)
    before = stored.weighing
    with sitting.store.act(f"Say what {stored.key.reference} is in") as tx:
        if placement.mailer != (stored.mailer_override or (before.mailer if before else "")):
            pieces.set_mailer(tx, [piece_id], placement.mailer)
        if before is not None:
            said = replace(
                before,
                mailer=placement.mailer,
                size=placement.size,
                stiff=placement.stiff,
                uneven=placement.uneven,
            )
            if said != before:
                pieces.record(tx, piece_id, said)
    sitting.announce(sitting.store.last_changes)


@dataclass(frozen=True, slots=True)
class Copied:
    """How many pieces took a weight, and the references of those left out because postage is on them."""

    count: int
    left_out: tuple[str, ...] = ()


def copy_weight(sitting: Sitting, piece_id: int, others: Collection[int], shown: Shown) -> Copied:
    """Let other pieces take this weight, with mailer and feel of the piece it comes from.

    Pieces with their postage on, or handed over, are left out: what they weighed when it was paid stays. Refused when
    that leaves none, or when there is no weight to take. KeyError when there is no such piece.
    """
    with sitting.store.reading() as conn:
        source = pieces.piece(conn, piece_id)
    if source.weighing is None:
        raise Refused("It has no weight yet. Weigh it first.")
    copied = replace(source.weighing, shown=shown, earlier=None, copied_from=source.key.reference)
    if source.mailer_override:
        copied = replace(copied, mailer=source.mailer_override)
    with sitting.store.act(f"Copy the weight of {source.key.reference}", count=len(others)) as tx:
        asked = pieces.some_pieces(tx.conn, others)
        takers = [stored.id for stored in asked if not _is_paid(stored)]
        if asked and not takers:
            raise Refused("Those alike have their postage on them, so their weights stay.")
        pieces.record_many(tx, dict.fromkeys(takers, copied))
    sitting.announce(sitting.store.last_changes)
    return Copied(len(takers), tuple(stored.key.reference for stored in asked if _is_paid(stored)))


def recorded_at(sitting: Sitting, piece_id: int) -> datetime | None:
    """When the weighing that counts was written, UTC, as it stands on disk; None when there is none."""
    with sitting.store.reading() as conn:
        return pieces.piece(conn, piece_id).weighed_at


def _is_paid(stored: pieces.StoredPiece) -> bool:
    return stored.postage_on or stored.handed_over


def _refuse_paid(stored: pieces.StoredPiece) -> None:
    if _is_paid(stored):
        raise Refused(f"{stored.key.order} has its postage on it, so its weight stays. Take the postage off it first.")


def _differs(one: Shown, other: Shown) -> bool:
    return abs(one.weight.grams - other.weight.grams) > max(one.step.grams, other.step.grams)
