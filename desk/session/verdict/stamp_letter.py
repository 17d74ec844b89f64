"""Sent by stamp on request: the letter that an order is proposed as, what goes back for it, and yes or no to it.

A request is accepted by answering its look. What is proposed shows as the piece's service where the shop's policy and
the buyer's choice allow a stamped letter anyway; where they do not, the look says what the letter would be, and only
yes makes it the piece's service.
"""

from __future__ import annotations

from dataclasses import replace

from desk.domain.finding import Code, Finding, finding
from desk.domain.money import Money, zero
from desk.domain.shop.shop import Policy
from desk.rates.posting import Posting
from desk.rates.quote import Offer, PriceRules, Quote, quote
from desk.rates.services import BY_STAMP
from desk.session.sitting import Sitting
from desk.session.verdict.payment import Payment, payment_for
from desk.session.verdict.stamp_request import DECLINED, REQUESTED
from desk.session.verdict.verdict import Verdict
from desk.store.tables import answers, pieces


def is_stamped(offer: Offer | None, policy: Policy) -> bool:
    """True when stamps pay for it."""
    return offer is not None and payment_for(offer.facts, policy) is Payment.STAMPED


def letter_instead(posting: Posting, quoted: Quote, rules: PriceRules) -> Quote | None:
    """The quote as a stamped letter, of a home piece that would otherwise go another way; None when it cannot."""
    if not posting.stamp_asked or posting.abroad or is_stamped(quoted.chosen, rules.policy):
        return None
    letter = quote(replace(posting, allowed=BY_STAMP), rules)
    return letter if is_stamped(letter.chosen, rules.policy) else None


def request_finding(offer: Offer | None, letter: Offer | None, refund: Money) -> Finding:
    """The look at a request: `letter` is the stamped letter it is or would be, None when there is none."""
    if letter is None:
        return finding(Code.STAMP_NOT_POSSIBLE, service=offer.service if offer else "")
    facts = {
        "refund": refund.text(),
        "service": letter.service,
        "postage": letter.price.text(),
        "currency": letter.price.currency,
    }
    return finding(REQUESTED, "common practice", None, **facts)


def refund_due(verdict: Verdict) -> Money:
    """What is owed to the buyer: the refund of a request that was accepted, on the order's first piece; else nothing."""
    if verdict.money is None:
        return zero(verdict.charged.currency)
    return verdict.money.refund if REQUESTED in verdict.case.answered else zero(verdict.money.refund.currency)


def accept_stamp_request(sitting: Sitting, piece_id: int) -> None:
    """Say yes to the request of the piece's order: all its pieces go as stamped letters where they can."""
    _answer(sitting, piece_id, REQUESTED, DECLINED, "Send by stamp")


def decline_stamp_request(sitting: Sitting, piece_id: int) -> None:
    """Say no to the request of the piece's order: it goes as if nobody had asked."""
    _answer(sitting, piece_id, DECLINED, REQUESTED, "Not by stamp")


def _answer(sitting: Sitting, piece_id: int, code: str, instead_of: str, step: str) -> None:
    with sitting.store.act(step) as tx:
        asked = pieces.piece(tx.conn, piece_id)
        tx.step = f"{step}: {asked.key.order}"
        of_order = pieces.of_orders(tx.conn, [asked.order_id])
        pieces.refuse_paid(of_order, "service")
        for piece in of_order:
            answers.withdraw(tx, piece.id, instead_of)
            answers.answer(tx, piece.id, code)
    sitting.announce(sitting.store.last_changes)
