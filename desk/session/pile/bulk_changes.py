"""Change many pieces at once: their mailer, service or size, or set them aside."""

from __future__ import annotations

import re
from collections.abc import Collection, Iterable
from dataclasses import replace

from desk.domain.faults import Refused
from desk.domain.length import LengthUnit, Size
from desk.domain.status import ORDER_CANCELED, PieceStatus
from desk.session.sitting import Sitting
from desk.session.words.figures import measure, pieces_in_words
from desk.session.words.services import service_words
from desk.session.words.typed_numbers import with_points
from desk.store.tables import answers, pieces

_NUMBER, _BY = r"(\d{1,4}(?:\.\d{1,4})?)", r"\s*[x×*]\s*"
_SIZE = re.compile(rf'{_NUMBER}{_BY}{_NUMBER}{_BY}{_NUMBER}\s*(in|mm|cm|")?')


def choose_mailer(sitting: Sitting, piece_ids: Collection[int], name: str) -> None:
    """Choose the mailer of pieces; an empty name clears the choice. Refused when postage is on one of them."""
    with sitting.store.act(f"Mailer set to {name or 'the usual one'} for {pieces_in_words(len(piece_ids))}") as tx:
        pieces.set_mailer(tx, piece_ids, name)
    sitting.announce(sitting.store.last_changes)


def choose_service(sitting: Sitting, piece_ids: Collection[int], service: str) -> None:
    """Choose the service of pieces; an empty id means the cheapest again.

    Refused when postage is on one of them, because it was bought for its service.
    """
    step = f"Service set to {service_words(service) or 'the cheapest'} for {pieces_in_words(len(piece_ids))}"
    with sitting.store.act(step, at_bench=len(piece_ids) == 1) as tx:
        pieces.set_service(tx, piece_ids, service)
    sitting.announce(sitting.store.last_changes)


def size_typed(text: str) -> Size:
    """Return a typed size such as `9 x 6 x 0.25`, in inches unless `mm` or `cm` follows. Refused when unreadable."""
    parts = _SIZE.fullmatch(with_points(text.strip().casefold()))
    if parts is None:
        raise Refused(measure("Type length × width × thickness, such as 9 x 6 x 0.25 or 230 x 160 x 8 mm."))
    length, width, thickness = (parts[at] + ("e1" if parts[4] == "cm" else "") for at in (1, 2, 3))
    size = Size.of(length, width, thickness, LengthUnit.MILLIMETER if parts[4] in ("mm", "cm") else LengthUnit.INCH)
    if not size.sides()[2].mm:
        raise Refused("Every side must be over 0. Type the thickness too.")
    return size


def set_size(sitting: Sitting, piece_ids: Collection[int], size: Size) -> int:
    """Set the size of pieces, keeping their weights, as one step; return how many had another size.

    Refused when postage is on one of them, or when one was never weighed: until then its size is its mailer's.
    """
    with sitting.store.act(
        f"Size set for {pieces_in_words(len(piece_ids))}", at_bench=len(piece_ids) == 1, count=len(piece_ids)
    ) as tx:
        chosen = pieces.some_pieces(tx.conn, piece_ids)
        pieces.refuse_paid(tx.conn, chosen, "size")
        sized = {piece.id: replace(piece.weighing, size=size) for piece in chosen if piece.weighing}
        if len(sized) < len(chosen):
            raise Refused("A size is saved with a weight. Weigh these pieces first, or choose their mailer.")
        recorded = pieces.record_many(tx, sized)
    sitting.announce(sitting.store.last_changes)
    return len(recorded.changed)


def set_beside(sitting: Sitting, piece_ids: Collection[int], status: PieceStatus | None, reason: str = "") -> None:
    """Mark pieces *set aside*, *came back* or *lost*, with a reason; None puts them back."""
    what = str(status).capitalize() if status else "Put back"
    step = f"{what}: {pieces_in_words(len(piece_ids))}"
    at_bench = len(piece_ids) == 1 and status in (None, PieceStatus.SET_ASIDE)
    with sitting.store.act(step, at_bench=at_bench) as tx:
        _refuse_canceled(pieces.some_pieces(tx.conn, piece_ids))
        pieces.set_beside(tx, piece_ids, status, " ".join(reason.split()))
    sitting.announce(sitting.store.last_changes)


def mail_anyway(sitting: Sitting, piece_ids: Collection[int]) -> None:
    """Put canceled pieces back in the queue, as one step. Without this act they are not mailed.

    Refused when one of them is not canceled.
    """
    with sitting.store.act(f"To be mailed anyway: {pieces_in_words(len(piece_ids))}") as tx:
        chosen = pieces.some_pieces(tx.conn, piece_ids)
        for piece in chosen:
            if not _is_canceled(piece):
                raise Refused(f"{piece.key.order} is not canceled.")
            answers.withdraw(tx, piece.id, ORDER_CANCELED)
        pieces.set_beside(tx, [piece.id for piece in chosen], None)
    sitting.announce(sitting.store.last_changes)


def _is_canceled(piece: pieces.StoredPiece) -> bool:
    return piece.beside is PieceStatus.SET_ASIDE and ORDER_CANCELED in piece.answered


def _refuse_canceled(chosen: Iterable[pieces.StoredPiece]) -> None:
    for piece in chosen:
        if _is_canceled(piece):
            raise Refused(f"{piece.key.order} is canceled. To mail it, select it in Batch and press Ctrl+Shift+A.")
