"""The record for contesting an adjustment: what was weighed and measured, when, and which price applies."""

from __future__ import annotations

from collections.abc import Iterator
from decimal import Decimal
from importlib.resources.abc import Traversable
from io import BytesIO
from pathlib import Path

from desk.domain.faults import Refused
from desk.domain.ledger import Entry
from desk.domain.whole_file import write_whole
from desk.session.pile.pile import Pile
from desk.session.sitting import Sitting
from desk.session.verdict.verdict import Verdict
from desk.session.words.figures import amount_words, day_in_words, moment_in_words
from desk.session.words.services import service_words
from desk.session.words.weights import reading_words
from desk.store.tables import ledger, papers, pieces
from desk.store.tables.papers import PaperKind
from desk.store.tables.pieces import StoredPiece

_HUNDREDTH = Decimal("0.01")
LETTER = "letter"
SHOWS = "This page shows what was weighed and measured here before mailing, on what scale step, and when."
SHOWS_NOT = "It does not show what the carrier measured. The scale here is not certified for trade unless it says so."


def save_weight_record(
    sitting: Sitting, pile: Pile, piece_id: int, check: str, resources: Traversable, file: Path
) -> None:
    """Write the record of one piece as PDF; `check` is the last check of the scale in words, empty for none.

    Refused for a piece that has no weight. OSError when it can't be written.
    """
    from desk.paper.fonts import Fonts
    from desk.paper.press import Press
    from desk.paper.stock import STOCKS
    from desk.paper.weight_record import WeightRecord, write_weight_record

    lines = record_lines(sitting, pile, piece_id, check)
    case = pile.verdicts[piece_id].case
    content = WeightRecord(
        reference=case.key.reference,
        title=f"Weight and size of package {case.number}",
        lines=lines,
        limits=(SHOWS, SHOWS_NOT),
    )
    out = BytesIO()
    letter = next(stock for stock in STOCKS if stock.id == LETTER)
    write_weight_record(content, out, Press(Fonts(resources / "fonts"), stock=letter, title=content.title))
    write_whole(file, out.getvalue())


def record_lines(sitting: Sitting, pile: Pile, piece_id: int, check: str) -> tuple[tuple[str, str], ...]:
    """Return the labels and values of the record. Refused for a piece that was not weighed."""
    verdict = pile.verdicts[piece_id]
    with sitting.store.reading() as conn:
        piece = pieces.piece(conn, piece_id)
        entered = ledger.of_pieces(conn, [piece_id])
        labels = [one for one in papers.all_papers(conn, piece_id) if one.kind is PaperKind.LABEL and not one.voided_at]
    if piece.weighing is None or piece.weighed_at is None:
        raise Refused(f"{verdict.case.number} was not weighed here, so there is nothing to show.")
    lines = [*_weight_lines(pile, verdict, piece), ("Last check of the scale", check or "none saved")]
    if labels:
        lines.append(("Label printed", moment_in_words(labels[-1].at)))
    if piece.tracking:
        lines.append(("Tracking number", piece.tracking))
    if entered:
        lines.append(("Mailed", day_in_words(entered[0].mailed_on)))
    lines += _price_lines(verdict)
    asked = [row for row in entered if row.entry is Entry.ADJUSTMENT]
    lines += [("Carrier adjustment", f"{amount_words(-row.amount)} {row.why}".strip()) for row in asked]
    return tuple(lines)


def _weight_lines(pile: Pile, verdict: Verdict, piece: StoredPiece) -> Iterator[tuple[str, str]]:
    weighing = piece.weighing
    assert weighing is not None
    assert piece.weighed_at is not None
    shown = weighing.shown
    yield "Scale reading, gross", reading_words(shown)
    yield "Scale step", f"{shown.division} {shown.unit.counted_in.value}"
    yield "Weighed", moment_in_words(piece.weighed_at)
    if weighing.copied_from:
        yield "Weight copied from", pile.number_of(weighing.copied_from)
    if size := verdict.contents.size:
        sides = (
            f"{side.inches().quantize(_HUNDREDTH).normalize():f}" for side in (size.length, size.width, size.thickness)
        )
        yield "Size", " × ".join(sides) + (" in" if weighing.size else " in, the usual size of its mailer")


def _price_lines(verdict: Verdict) -> Iterator[tuple[str, str]]:
    offer = verdict.offer
    if offer is None:
        return
    yield "Service", service_words(offer.service)
    yield "Bills as", f"{offer.billable.figure} {offer.billable.unit}"
    row = f", row up to {offer.row.max_weight.ounces().normalize():f} oz" if offer.row else ""
    yield "Price list", f"{day_in_words(offer.chart.effective)}, zone or group {offer.key or 'none'}{row}"
    yield "Postage by this list", amount_words(offer.price)
