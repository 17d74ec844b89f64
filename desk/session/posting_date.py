"""Another posting date: everything is priced anew, and what already carries postage may be short by then."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

from desk.domain.money import Money
from desk.domain.piece import PieceKey
from desk.rates.stamps import stamp_values, worth_of
from desk.session.pile import Pile
from desk.session.verdict import Verdict


@dataclass(frozen=True, slots=True)
class Short:
    """A piece that carries less postage than it would need on the new date, and by how much."""

    piece: PieceKey
    by: Money


def post_on(pile: Pile, on: date) -> tuple[Short, ...]:
    """Let another day be the posting date; the pieces that are short then, in the order of the pile.

    A piece with its postage on and not yet handed over carries what it cost on the date before; where its stamps were
    kept, what they count for on the new one, as Forever stamps rise with the price.
    """
    carried = {number: _carried(verdict) for number, verdict in pile.verdicts.items()}
    pile.sitting.on = on
    pile.read_all()
    values = stamp_values(pile.terms.rulebook.charts, on)
    found = []
    for number, verdict in pile.verdicts.items():
        paid, asked = carried.get(number), verdict.offer.price if verdict.offer else None
        if paid is not None and verdict.case.stamps_on:
            paid = worth_of(verdict.case.stamps_on, values, paid.currency)
        if paid is not None and asked is not None and paid.currency == asked.currency and paid < asked:
            found.append(Short(verdict.case.key, asked - paid))
    return tuple(found)


def _carried(verdict: Verdict) -> Money | None:
    on_it = verdict.case.postage_on and not verdict.case.handed_over
    return verdict.offer.price if on_it and verdict.offer else None
