"""The income and costs of each piece, in batch order, with the sums."""

from __future__ import annotations

from dataclasses import dataclass

from desk.costs.ledger import PieceMoney, total
from desk.domain.money import Money, zero
from desk.domain.status import PieceStatus
from desk.session.pile.days_that_left import days_that_left
from desk.session.pile.pile import Pile
from desk.session.verdict.money import refund_due
from desk.session.verdict.price_age import FRESH, Age, age_of, ages_in_sum


@dataclass(frozen=True, slots=True)
class CostRow:
    """The money of one weighed piece, and how old its price is."""

    number: str
    recipient: str
    money: PieceMoney
    age: Age = FRESH

    @property
    def loses(self) -> bool:
        """True when it cost more than it brought in."""
        return self.money.margin < Money(0, self.money.margin.currency)


@dataclass(frozen=True, slots=True)
class CostList:
    """Every weighed piece that has a postage, the sums over them, and how many pieces are not weighed yet.

    `asked` is the part of the refunds not agreed to yet: it is owed only if you use stamps. `ages` says which prices in
    the sums are outdated; empty: none.
    """

    rows: tuple[CostRow, ...]
    sums: PieceMoney
    open: int
    asked: Money
    ages: str = ""


def cost_list(pile: Pile) -> CostList:
    """Return the list of this batch: what is in progress, and what was handed over for the mailing date or later.

    A canceled package counts only once its postage was bought.
    """
    batch, on = pile.batch(), pile.terms.on
    left = [number for number, verdict in pile.verdicts.items() if verdict.case.handed_over]
    gone = {reference for day in days_that_left(pile.sitting, left) if day.day < on for reference in day.postage}
    verdicts = [
        verdict for verdict in batch.verdicts if verdict.status is not PieceStatus.CANCELED or verdict.case.is_paid
    ]
    here = [verdict for verdict in verdicts if verdict.case.key.reference not in gone]
    priced = [verdict for verdict in here if verdict.money is not None and verdict.offer is not None]
    rows = tuple(
        CostRow(verdict.case.number, verdict.case.order.address.recipient, verdict.money, age_of(verdict.offer, on))
        for verdict in priced
        if verdict.money is not None and verdict.offer is not None
    )
    nothing = zero(pile.terms.shop.policy.currency)
    sums = total([row.money for row in rows], nothing)
    asked = sums.refund - sum((refund_due(verdict) for verdict in priced), nothing)
    return CostList(rows, sums, len(here) - len(rows), asked, ages_in_sum(here, on))
