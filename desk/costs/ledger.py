"""The money of one piece: what it took in and what it took out."""

from __future__ import annotations

from dataclasses import dataclass

from desk.domain.money import Money


@dataclass(frozen=True, slots=True)
class PieceMoney:
    """`charged` stands on the first piece of an order only. All in the shop's currency."""

    charged: Money
    postage: Money
    materials: Money
    refund: Money
    overpaid: Money  # by stamps worth more than the postage

    @property
    def margin(self) -> Money:
        """Charged, less refund, postage and materials; what stamps overpay is a column of its own."""
        return self.charged - self.refund - self.postage - self.materials


def total(pieces: list[PieceMoney], nothing: Money) -> PieceMoney:
    """The sums over a batch; `nothing` names the currency."""
    return PieceMoney(
        sum((piece.charged for piece in pieces), nothing),
        sum((piece.postage for piece in pieces), nothing),
        sum((piece.materials for piece in pieces), nothing),
        sum((piece.refund for piece in pieces), nothing),
        sum((piece.overpaid for piece in pieces), nothing),
    )
