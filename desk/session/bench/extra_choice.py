"""Choose the extras of a piece: only those its service sells, each with its price."""

from __future__ import annotations

from dataclasses import dataclass

from desk.rates.extras import CERTIFICATES, FIRM_SHEET, LEAST_ON_SHEET, extras_of_side, priced_extras
from desk.session.sitting import Sitting
from desk.session.verdict.verdict import Terms, Verdict
from desk.session.words.figures import amount_words
from desk.session.words.services import extra_words
from desk.store.tables import pieces


@dataclass(frozen=True, slots=True)
class ExtraChoice:
    """An extra that can be bought with a piece, or is chosen for it: its code, and its words with the price."""

    code: str
    words: str
    is_chosen: bool = False


def extra_choices(verdict: Verdict, terms: Terms) -> tuple[ExtraChoice, ...]:
    """Return the extras of a piece that a service can carry, for its goods' value; empty until it is weighed.

    One that was chosen is among them even where its service does not sell it, so that it can be taken back.
    """
    if verdict.offer is None:
        return ()
    chosen, facts = verdict.case.extras, verdict.offer.facts
    codes = dict.fromkeys((*extras_of_side(abroad=facts.abroad), *chosen))
    found = []
    for extra in priced_extras(codes, facts, verdict.case.order.goods_value, terms.price_rules):
        words = extra_words(extra.code)
        if extra.price:
            least = f" ({LEAST_ON_SHEET} pieces or more)" if extra.code == FIRM_SHEET else ""
            found.append(ExtraChoice(extra.code, f"{words}{least}, {amount_words(extra.price)}", extra.code in chosen))
        elif extra.code in chosen:
            why = "included" if extra.price is not None else "not sold with this service"
            found.append(ExtraChoice(extra.code, f"{words}, {why}", is_chosen=True))
    return tuple(found)


def choose_extra(sitting: Sitting, piece_id: int, code: str, *, wanted: bool) -> None:
    """Add an extra to a piece, or remove it; a certificate replaces one of another kind. Refused when paid for."""
    with sitting.store.act("Extras changed") as tx:
        piece = pieces.piece(tx.conn, piece_id)
        dropped = CERTIFICATES if code in CERTIFICATES and wanted else {code}
        kept = tuple(one for one in piece.extras if one not in dropped)
        tx.step = f"{'Added' if wanted else 'Removed'} {extra_words(code)}: {piece.key.reference}"
        pieces.set_extras(tx, [piece_id], (*kept, code) if wanted else kept)
    sitting.announce(sitting.store.last_changes)
