"""Weigh: record what a scale showed for a piece. A weight once recorded never moves to another piece."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace

from desk.domain.piece import PieceKey, Weighing
from desk.session.sitting import Sitting
from desk.session.untold import tell_later
from desk.store import orders, pieces


@dataclass(frozen=True, slots=True)
class Weighed:
    """What a pile of readings did: pieces weighed, pieces whose reading changed, and keys no order has."""

    recorded: tuple[PieceKey, ...]
    changed: tuple[PieceKey, ...]
    strangers: tuple[PieceKey, ...]


def fold_twice(rows: Iterable[tuple[PieceKey, Weighing]]) -> dict[PieceKey, Weighing]:
    """One weighing a piece: the later one counts, and keeps what the one before it showed."""
    folded: dict[PieceKey, Weighing] = {}
    for key, weighing in rows:
        before = folded.get(key)
        folded[key] = weighing if before is None else replace(weighing, earlier=before.shown)
    return folded


def weigh(sitting: Sitting, rows: Sequence[tuple[PieceKey, Weighing]]) -> Weighed:
    """Record readings as one step. The same reading again is no new weighing."""
    folded = fold_twice(rows)
    step = f"Weigh {next(iter(folded)).reference}" if len(folded) == 1 else "Weigh pieces"
    with sitting.store.act(step, count=len(folded)) as tx:
        known = orders.numbers(tx.conn)
        ours = {key: weighing for key, weighing in folded.items() if key.order in known}
        ids = pieces.ensure_pieces(tx, list(ours))
        before = {piece.id: piece.weighing for piece in pieces.all_pieces(tx.conn)}
        news = {key: weighing for key, weighing in ours.items() if before[ids[key]] != weighing}
        pieces.record_many(tx, [(ids[key], weighing) for key, weighing in news.items()])
        changed = tuple(key for key in news if before[ids[key]] is not None)
        tell_later(tx, [{"order": key.order, "piece": key.piece} for key in changed])
    sitting.announce(sitting.store.last_changes)
    return Weighed(tuple(news), changed, tuple(key for key in folded if key.order not in known))
