"""A buyer's request for stamps: reading the note, the stamped letter it would be, and the maker's yes or no.

One of the shop's phrases anywhere in the note is a request, unless its sentence negates it. A request is accepted by
answering its issue. The stamped letter is the piece's service at once where the shop's rules and the buyer's choice
allow one anyway; otherwise the issue says what the letter would be, and only a yes makes it the service.
"""

from __future__ import annotations

import re
from collections.abc import Iterable
from dataclasses import replace

from desk.domain.finding import Code, Finding, finding
from desk.domain.money import Money
from desk.domain.shop.shop import Policy
from desk.rates.posting import Posting
from desk.rates.quote import Offer, PriceRules, Quote, quote
from desk.rates.services import BY_STAMP
from desk.session.sitting import Sitting
from desk.session.verdict.payment import Payment, payment_for
from desk.store.tables import answers, pieces

REQUESTED = Code.STAMPS_REQUESTED  # the look; answering it accepts the request
DECLINED = "stamp-declined"  # saved with a piece's answers when the maker declines; never a finding

_NEGATIONS = re.compile(
    r"\b(no|not|never|without|don'?t|dont|doesn'?t|isn'?t|rather than|instead of|nicht|kein\w*|pas|sin)\b"
)
# A negation ends at the next punctuation or "but": "no rush, by stamp is fine" asks for one.
_CLAUSE_END = re.compile(r"[.!?;,\n]|\bbut\b")
_DENIED_AFTER = re.compile(
    r"\s+(is|was|are|would|will|does|can)\s+(really\s+)?not\b|\s+(is|was|wo|would|does|ca)n'?t\b|\s*\?\s*no\b"
)


def asks_for_stamp(note: str, phrases: Iterable[str]) -> bool:
    """Return True when the note has one of the phrases, in any case, in a clause that doesn't negate it."""
    if not note:
        return False
    text = note.casefold().replace("\u2019", "'")
    return any(_said_plainly(text, phrase.casefold().strip()) for phrase in phrases)


def _said_plainly(text: str, phrase: str) -> bool:
    if not phrase:
        return False
    for match in re.finditer(rf"(?<!\w){re.escape(phrase)}(?!\w)", text):
        before = _CLAUSE_END.split(text[: match.start()])[-1]
        if not _NEGATIONS.search(before) and not _DENIED_AFTER.match(text[match.end() :]):
            return True
    return False


def is_stamped(offer: Offer | None, policy: Policy) -> bool:
    """Return True when the offer is paid with stamps."""
    return offer is not None and payment_for(offer.facts, policy) is Payment.STAMPED


def letter_instead(posting: Posting, quoted: Quote, rules: PriceRules) -> Quote | None:
    """Return the quote as a stamped letter, for a domestic piece that would go another way; None when it can't."""
    if not posting.stamp_asked or posting.abroad or is_stamped(quoted.chosen, rules.policy):
        return None
    letter = quote(replace(posting, allowed=BY_STAMP), rules)
    return letter if is_stamped(letter.chosen, rules.policy) else None


def request_finding(offer: Offer | None, letter: Offer | None, refund: Money) -> Finding:
    """Return the issue for a request; `letter` is the stamped letter it is or would be, None when there is none."""
    if letter is None:
        return finding(Code.STAMP_NOT_POSSIBLE, service=offer.service if offer else "")
    facts = {
        "refund": refund.text(),
        "service": letter.service,
        "postage": letter.price.text(),
        "currency": letter.price.currency,
    }
    return finding(REQUESTED, "common practice", None, **facts)


def accept_stamp_request(sitting: Sitting, piece_id: int) -> None:
    """Accept the order's request: all its pieces go as stamped letters where they can."""
    _answer(sitting, piece_id, REQUESTED, DECLINED, "Using stamps")


def decline_stamp_request(sitting: Sitting, piece_id: int) -> None:
    """Decline the order's request: it goes as if there were none."""
    _answer(sitting, piece_id, DECLINED, REQUESTED, "Not using stamps")


def _answer(sitting: Sitting, piece_id: int, code: str, instead_of: str, step: str) -> None:
    with sitting.store.act(step, at_bench=True) as tx:
        asked = pieces.piece(tx.conn, piece_id)
        tx.step = f"{step} for {asked.key.order}"
        of_order = pieces.of_orders(tx.conn, [asked.order_id])
        pieces.refuse_paid(tx.conn, of_order, "service")
        for piece in of_order:
            answers.withdraw(tx, piece.id, instead_of)
            answers.answer(tx, piece.id, code)
    sitting.announce(sitting.store.last_changes)
