"""Weigh: record what a scale showed for a piece. A weight once recorded never moves to another piece."""

from __future__ import annotations

from collections.abc import Hashable, Iterable, Sequence
from dataclasses import dataclass, replace
from typing import TypeVar

from desk.domain.piece import PieceKey, Weighing
from desk.session.sitting import Sitting
from desk.session.unreported import tell_later
from desk.store import pieces

Piece = TypeVar("Piece", bound=Hashable)


@dataclass(frozen=True, slots=True)
class Weighed:
    """What a pile of readings did: pieces weighed first, pieces whose reading changed, keys no order has."""

    fresh: tuple[PieceKey, ...]
    changed: tuple[PieceKey, ...]
    strangers: tuple[PieceKey, ...]


def fold_twice(rows: Iterable[tuple[Piece, Weighing]]) -> dict[Piece, Weighing]:
    """One weighing a piece: the later one counts, and keeps what the one before it showed."""
    folded: dict[Piece, Weighing] = {}
    for key, weighing in rows:
        before = folded.get(key)
        folded[key] = weighing if before is None else replace(weighing, earlier=before.shown)
    return folded


def weigh(sitting: Sitting, rows: Sequence[tuple[PieceKey, Weighing]]) -> Weighed:
    """Record readings as one step. The same reading again is no new weighing."""
    folded = fold_twice(rows)
    step = f"Weigh {next(iter(folded)).reference}" if len(folded) == 1 else "Weigh pieces"
    with sitting.store.act(step, count=len(folded)) as tx:
        ids = pieces.ensure_pieces(tx, folded)
        keys = {number: key for key, number in ids.items()}
        recorded = pieces.record_many(tx, fold_twice((number, folded[key]) for key, number in ids.items()))
        changed = tuple(keys[number] for number in recorded.changed)
        tell_later(tx, pieces=changed)
    sitting.announce(sitting.store.last_changes)
    fresh = tuple(keys[number] for number in recorded.new)
    return Weighed(fresh, changed, tuple(key for key in folded if key not in ids))
