"""Choose the extras of a piece: only those its service sells, each with its price."""

from __future__ import annotations

from dataclasses import dataclass

from desk.costs.insurance import insurance_advice
from desk.domain.exchange import converted
from desk.domain.money import zero
from desk.rates.extras import (
    CERTIFICATES,
    FIRM_SHEET,
    INSURANCE,
    INSURANCE_ABROAD,
    LEAST_ON_SHEET,
    extras_of_side,
    priced_extras,
)
from desk.session.money.losses import LossRate, loss_words
from desk.session.sitting import Sitting
from desk.session.verdict.verdict import Terms, Verdict
from desk.session.words.figures import amount_words, share_in_words
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

    One that was chosen is among them even where its service does not sell it, so that it can be removed.
    """
    if verdict.offer is None:
        return ()
    chosen, facts = verdict.case.extras, verdict.offer.facts
    codes = dict.fromkeys((*extras_of_side(abroad=facts.abroad), *chosen))
    choices = []
    for extra in priced_extras(codes, facts, verdict.case.order.goods_value, terms.price_rules):
        words = extra_words(extra.code)
        if extra.price:
            least = f" ({LEAST_ON_SHEET} pieces or more)" if extra.code == FIRM_SHEET else ""
            choices.append(
                ExtraChoice(extra.code, f"{words}{least}, {amount_words(extra.price)}", extra.code in chosen)
            )
        elif extra.code in chosen:
            why = "included" if extra.price is not None else "not sold with this service"
            choices.append(ExtraChoice(extra.code, f"{words}, {why}", is_chosen=True))
    return tuple(choices)


_WORTH = {True: "worth it", False: "not worth it", None: "too few to tell"}


def insurance_words(verdict: Verdict, terms: Terms, rate: LossRate) -> str:
    """Return whether insurance pays off for a piece by the shop's own losses; empty where none is sold or needed."""
    offer, goods = verdict.offer, verdict.case.order.goods_value
    value = converted(goods, "USD", terms.rates)
    if offer is None or value is None:
        return ""
    code = INSURANCE_ABROAD if offer.facts.abroad else INSURANCE
    (insurance,) = priced_extras((code,), offer.facts, goods, terms.price_rules)
    cover = offer.facts.cover or zero("USD")
    if not insurance.price or value.cents() <= cover:
        return ""
    advice = insurance_advice(insurance.price, value.cents(), cover, rate)
    if advice.needed_share >= 1:
        return "Insurance costs at least what it would pay beyond the included cover."
    needed = share_in_words(advice.needed_share, 1)
    return (
        f"Insurance pays off if more than {needed} of packages get lost: {_WORTH[advice.worth_it]}. {loss_words(rate)}"
    )


def choose_extra(sitting: Sitting, piece_id: int, code: str, *, wanted: bool) -> None:
    """Add an extra to a piece, or remove it; a certificate replaces one of another kind. Refused when paid for."""
    with sitting.store.act("Extras changed") as tx:
        piece = pieces.piece(tx.conn, piece_id)
        dropped = CERTIFICATES if code in CERTIFICATES and wanted else {code}
        rest = tuple(one for one in piece.extras if one not in dropped)
        tx.step = f"{'Added' if wanted else 'Removed'} {extra_words(code)}: {pieces.number_of(tx.conn, piece)}"
        pieces.set_extras(tx, [piece_id], (*rest, code) if wanted else rest)
    sitting.announce(sitting.store.last_changes)
