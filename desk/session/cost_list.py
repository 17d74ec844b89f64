"""What each piece took in and took out, in the order of the pile, with the sums."""

from __future__ import annotations

from dataclasses import dataclass

from desk.costs.ledger import PieceMoney, total
from desk.domain.money import Money, zero
from desk.domain.piece import PieceKey
from desk.session.pile import Pile
from desk.session.price_age import FRESH, Age, age_of, ages_in_sum


@dataclass(frozen=True, slots=True)
class CostRow:
    """The money of one weighed piece, and the age of its postage."""

    piece: PieceKey
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

    `ages` says which prices in the sums are past their list's last day; empty: none.
    """

    rows: tuple[CostRow, ...]
    sums: PieceMoney
    open: int
    ages: str = ""


def cost_list(pile: Pile) -> CostList:
    """The list for the pile as it stands."""
    batch, on = pile.batch(), pile.terms.on
    rows = tuple(
        CostRow(verdict.case.key, verdict.case.order.address.recipient, verdict.money, age_of(verdict.offer, on))
        for verdict in batch.verdicts
        if verdict.money is not None and verdict.offer is not None
    )
    sums = total([row.money for row in rows], zero(pile.terms.shop.policy.currency))
    return CostList(rows, sums, len(batch.verdicts) - len(rows), ages_in_sum(batch.verdicts, on))
