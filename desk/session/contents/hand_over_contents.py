"""The contents of the hand-over sheet: which pieces go where, how they are paid, and sums."""

from __future__ import annotations

from desk.domain.finding import Code
from desk.domain.money import zero
from desk.domain.stands import Stand
from desk.paper.hand_over import HandOverContent, HandOverGroup, HandOverRow
from desk.session.contents.piece_words import billable_words, money_words, place_words, recipient_name
from desk.session.pile.batch import Batch
from desk.session.verdict.payment import Payment
from desk.session.verdict.price_age import ages_in_sum
from desk.session.verdict.verdict import Terms, Verdict
from desk.session.words.counts import pieces_in_words
from desk.session.words.figures import day_in_words

# A piece goes into the first group that fits; hazardous ones never go into a box or a pickup unchecked.
GROUPS = (
    ("hazardous", "Hazardous: hand to a clerk and say what is inside"),
    ("counter", "Counter: hand to a clerk"),
    ("box", "Collection box or counter"),
    ("pickup", "Pickup or drop-off: postage bought online"),
)


def hand_over_content(batch: Batch, terms: Terms) -> HandOverContent:
    """Return what goes where; pieces that can't go yet are counted in a note and not listed."""
    rows: dict[str, list[Verdict]] = {name: [] for name, _ in GROUPS}
    held = 0
    for verdict in batch.verdicts:
        if verdict.offer is None or verdict.stands not in (Stand.READY, Stand.LABELED):
            held += 1
        else:
            rows[group_of(verdict)].append(verdict)
    groups = tuple(_group(heading, rows[name], terms) for name, heading in GROUPS if rows[name])
    going = [verdict for name, _ in GROUPS for verdict in rows[name]]
    return HandOverContent(
        title=terms.shop.sender.recipient or terms.shop.sender.company,
        date=day_in_words(terms.on),
        groups=groups,
        total=_sum_words(going, terms),
        signature=f"{pieces_in_words(len(going))} received. Name, signature, date" if going else "",
        notes=tuple(filter(None, (ages_in_sum(going, terms.on), _held_words(held)))),
    )


def group_of(verdict: Verdict) -> str:
    """Return the id of the hand-over group of a piece, one of `GROUPS`."""
    if any(product is not None and product.restricted for product, _ in verdict.contents.products):
        return "hazardous"
    if verdict.payment is Payment.COUNTER or any(found.code is Code.HAND_TO_CLERK for found in verdict.findings):
        return "counter"
    return "pickup" if verdict.payment is Payment.ONLINE else "box"


def _held_words(held: int) -> str:
    return f"{pieces_in_words(held)} not listed: not weighed yet, or something needs a check." if held else ""


def _group(heading: str, verdicts: list[Verdict], terms: Terms) -> HandOverGroup:
    rows = tuple(
        HandOverRow(
            order=verdict.case.key.reference,
            recipient=recipient_name(verdict),
            place=place_words(verdict),
            billable=billable_words(verdict),
            postage=money_words(verdict.offer.price) if verdict.offer else "",
            mark=_mark(verdict),
        )
        for verdict in verdicts
    )
    return HandOverGroup(heading=heading, rows=rows, total=_sum_words(verdicts, terms))


def _mark(verdict: Verdict) -> str:
    """Return the customs form, and `to pay` when the postage is still due."""
    form = verdict.declaration.form if verdict.declaration and verdict.declaration.form != "none" else ""
    to_pay = "to pay" if verdict.payment is Payment.COUNTER and not verdict.case.postage_on else ""
    return " ".join(filter(None, (form, to_pay)))


def _sum_words(verdicts: list[Verdict], terms: Terms) -> str:
    postage = sum((verdict.offer.price for verdict in verdicts if verdict.offer), zero(terms.shop.policy.currency))
    return f"{pieces_in_words(len(verdicts))}, {money_words(postage)}"
