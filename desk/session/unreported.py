"""Changes not yet reported, stored so that a crash before the report loses nothing."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from desk.domain.orders.piece import PieceKey
from desk.session.sitting import Sitting
from desk.store.tables import settings
from desk.store.transaction import Transaction

UNREPORTED = "untold changes"


@dataclass(frozen=True, slots=True)
class Unreported:
    """Orders that were replaced, and pieces with a new weight."""

    orders: tuple[str, ...] = ()
    pieces: tuple[PieceKey, ...] = ()


def report_later(tx: Transaction, orders: Sequence[str] = (), pieces: Sequence[PieceKey] = ()) -> None:
    """Save changes to report later, within the step that makes them."""
    if orders or pieces:
        before = settings.read(tx.conn, UNREPORTED, Unreported())
        both = Unreported(
            tuple(dict.fromkeys((*before.orders, *orders))), tuple(dict.fromkeys((*before.pieces, *pieces)))
        )
        settings.write(tx, UNREPORTED, both)


def unreported(sitting: Sitting) -> list[dict[str, str | int]]:
    """Return the changes not yet reported, as `{"order": ..}` and `{"order": .., "piece": ..}`."""
    with sitting.store.reading() as conn:
        saved = settings.read(conn, UNREPORTED, Unreported())
    changed: list[dict[str, str | int]] = [{"order": number} for number in saved.orders]
    return changed + [{"order": key.order, "piece": key.piece} for key in saved.pieces]


def mark_reported(sitting: Sitting) -> None:
    """Mark all changes as reported."""
    if unreported(sitting):
        with sitting.store.act("Changes reported") as tx:
            settings.write(tx, UNREPORTED, Unreported())
