"""The contents of the hand-over sheet: which pieces go where, how they are paid, and sums."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from datetime import datetime

from desk.domain.finding import Code
from desk.domain.money import Money, zero
from desk.domain.status import PieceStatus
from desk.domain.weight import WeightUnit
from desk.paper.hand_over import HandOverContent, HandOverGroup, HandOverRow
from desk.rates.extras import CERTIFICATES
from desk.session.contents.piece_words import billable_words, place_words, recipient_name
from desk.session.pile.batch import Batch
from desk.session.pile.days_that_left import DayThatLeft
from desk.session.verdict.payment import Payment
from desk.session.verdict.price_age import ages_in_sum
from desk.session.verdict.verdict import Terms, Verdict
from desk.session.words.figures import amount_words, day_in_words, pieces_in_words
from desk.session.words.services import EXTRA_MARKS
from desk.session.words.weights import weight_words

# A piece goes into the first group that fits; hazardous ones never go into a box or a pickup unchecked.
GROUPS = (
    ("hazardous", "Hazardous: hand to a clerk and say what is inside"),
    ("form", "Military and island addresses: hand to a clerk with a customs form filled out on a computer"),
    ("counter", "Counter: hand to a clerk"),
    ("box", "Collection box or counter"),
    ("pickup", "Pickup or drop-off: postage bought online"),
)
_HELD = {  # why a piece is not listed, in the order reported, with its words
    "to weigh": "{count} not weighed yet",
    "stopped": "{count} can't be mailed like this",
    "needs a look": "{count} to check",
    "no service": "{count} without a service",
    "set aside": "{count} set aside",
    "canceled": "{count} canceled",
    "came back": "{count} came back",
    "lost": "{count} lost",
}


def hand_over_content(batch: Batch, terms: Terms, day: DayThatLeft | None = None) -> HandOverContent:
    """Return what goes where: what is ready now, or what was handed over on a day, at the postage it left with.

    Pieces that something holds back are counted in a note, by reason, and not listed.
    """
    notes: Sequence[str] = ()
    if day is None:
        going = [verdict for verdict in batch.verdicts if _is_going(verdict)]
        priced = [_Priced(one, one.postage, was_left_behind(one, batch.left_last)) for one in going]
        priced.sort(key=lambda one: not one.is_behind)
        notes = (ages_in_sum(going, terms.on), customs_words(batch.verdicts), held_words(batch.verdicts))
    else:
        known = {verdict.case.key.reference: verdict for verdict in batch.verdicts}
        priced = [_Priced(known[one], postage) for one, postage in day.postage.items() if one in known]
    return HandOverContent(
        title=terms.shop.sender.recipient or terms.shop.sender.company,
        date=day_in_words(day.day if day else terms.on),
        groups=tuple(_groups(priced, terms)),
        total=_sum_words(priced, terms),
        signature=f"{pieces_in_words(len(priced))} received. Name, signature, date" if priced else "",
        acceptance="Acceptance or pickup number" if priced else "",
        notes=tuple(filter(None, notes)),
    )


def was_left_behind(verdict: Verdict, left_last: datetime | None) -> bool:
    """Return True for a piece that was weighed before others left on an earlier day: it goes first."""
    at = verdict.case.weighed_at
    return at is not None and left_last is not None and at < left_last and not verdict.case.handed_over


def held_words(verdicts: Iterable[Verdict]) -> str:
    """Return how many pieces of the pile are not listed, by reason; what was handed over is no longer in it."""
    held = Counter(_why_held(verdict) for verdict in verdicts if not _is_going(verdict))
    parts = [words.format(count=held[why]) for why, words in _HELD.items() if held[why]]
    return f"Not listed: {', '.join(parts)}." if parts else ""


def _is_going(verdict: Verdict) -> bool:
    can_go = verdict.offer is not None and verdict.status in (PieceStatus.READY, PieceStatus.LABELED)
    return can_go and not verdict.customs_open


def customs_words(verdicts: Iterable[Verdict]) -> str:
    """Return which labeled pieces are held, since their declaration isn't complete; empty for none."""
    held = [verdict.case.number for verdict in verdicts if _is_at_customs(verdict)]
    return f"Labeled, but held until the customs issue is fixed: {', '.join(held)}." if held else ""


def _is_at_customs(verdict: Verdict) -> bool:
    return verdict.status is PieceStatus.LABELED and bool(verdict.customs_open)


def _why_held(verdict: Verdict) -> str:
    if _is_at_customs(verdict):
        return "customs"  # named in a note of its own
    if verdict.status is PieceStatus.NEEDS_A_LOOK and verdict.is_stopped:
        return "stopped"
    return "no service" if verdict.status in (PieceStatus.READY, PieceStatus.LABELED) else str(verdict.status)


def group_of(verdict: Verdict) -> str:
    """Return the id of the hand-over group of a piece, one of `GROUPS`."""
    if any(product is not None and product.restricted for product, _ in verdict.contents.products):
        return "hazardous"
    if not verdict.is_abroad and verdict.declaration is not None and verdict.declaration.has_form:
        return "form"
    if verdict.payment is Payment.COUNTER or any(issue.code is Code.HAND_TO_CLERK for issue in verdict.findings):
        return "counter"
    bought = frozenset(verdict.extras_sold)
    if bought & CERTIFICATES or (bought and verdict.payment is not Payment.ONLINE):
        return "counter"
    return "pickup" if verdict.payment is Payment.ONLINE else "box"


@dataclass(frozen=True, slots=True)
class _Priced:
    """A piece with the postage it is listed with."""

    verdict: Verdict
    postage: Money | None
    is_behind: bool = False  # left behind on an earlier day


def _groups(pieces: Sequence[_Priced], terms: Terms) -> Iterator[HandOverGroup]:
    for name, heading in GROUPS:
        if here := [one for one in pieces if group_of(one.verdict) == name]:
            total = _sum_words(here, terms)
            if name == "pickup":
                total += f", {_weight_words(here, terms)}"
            yield HandOverGroup(heading=heading, rows=tuple(map(_row, here)), total=total)


def _weight_words(pieces: Sequence[_Priced], terms: Terms) -> str:
    """Return the total weight as mailed, with the labels added after weighing."""
    weights = [one.verdict.case.weighing.shown.weight for one in pieces if one.verdict.case.weighing]
    label = terms.shop.policy.label_weight
    total = sum((weight + label for weight in weights[1:]), weights[0] + label) if weights else label
    return weight_words(total, WeightUnit.POUND_OUNCE)


def _row(one: _Priced) -> HandOverRow:
    verdict = one.verdict
    return HandOverRow(
        reference=verdict.case.key.reference,
        number=verdict.case.number,
        recipient=recipient_name(verdict),
        place=place_words(verdict),
        billable=billable_words(verdict),
        postage=amount_words(one.postage) if one.postage else "",
        mark=_mark(one),
    )


def _mark(one: _Priced) -> str:
    """Return the customs form and extras, `to pay` when the postage is still due, and `left behind` from a day before."""
    verdict = one.verdict
    form = verdict.declaration.form if verdict.declaration and verdict.declaration.has_form else ""
    to_pay = "to pay" if verdict.payment is Payment.COUNTER and not verdict.case.is_paid else ""
    extras = ", ".join(EXTRA_MARKS.get(code, code) for code in verdict.extras_sold)
    behind = "left behind" if one.is_behind else ""
    return " ".join(filter(None, (form, to_pay, extras, behind)))


def _sum_words(pieces: Sequence[_Priced], terms: Terms) -> str:
    postage = sum((one.postage for one in pieces if one.postage), zero(terms.shop.policy.currency))
    return f"{pieces_in_words(len(pieces))}, {amount_words(postage)}"
