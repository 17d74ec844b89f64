"""Say something of many pieces at once: their mailer, their service, or that they are set aside."""

from __future__ import annotations

from collections.abc import Collection

from desk.domain.stands import Stand
from desk.session.sitting import Sitting
from desk.store import pieces


def choose_mailer(sitting: Sitting, piece_ids: Collection[int], name: str) -> None:
    """Choose the mailer of pieces; an empty name takes the choice back."""
    with sitting.store.act(f"Mailer {name} for {_pieces(piece_ids)}") as tx:
        pieces.set_mailer(tx, piece_ids, name)
    sitting.announce(sitting.store.last_changes)


def choose_service(sitting: Sitting, piece_ids: Collection[int], service: str) -> None:
    """Choose the service of pieces; an empty one leaves it to the price lists again."""
    with sitting.store.act(f"Service {service} for {_pieces(piece_ids)}") as tx:
        pieces.set_service(tx, piece_ids, service)
    sitting.announce(sitting.store.last_changes)


def set_beside(sitting: Sitting, piece_ids: Collection[int], stand: Stand | None) -> None:
    """Say *set aside*, *came back* or *lost* of pieces, or with None that they are back on the line."""
    step = f"{str(stand).capitalize()}: {_pieces(piece_ids)}" if stand else f"Back on the line: {_pieces(piece_ids)}"
    with sitting.store.act(step) as tx:
        pieces.set_beside(tx, piece_ids, stand)
    sitting.announce(sitting.store.last_changes)


def _pieces(piece_ids: Collection[int]) -> str:
    return "1 piece" if len(piece_ids) == 1 else f"{len(piece_ids)} pieces"
