"""The money of one piece: what it earned and what it cost."""

from __future__ import annotations

from dataclasses import dataclass

from desk.domain.money import Money


@dataclass(frozen=True, slots=True)
class PieceMoney:
    """The amounts of one piece, in the shop's currency. Only an order's first piece has `charged`."""

    charged: Money
    postage: Money
    materials: Money
    refund: Money
    overpaid: Money  # by stamps worth more than the postage

    @property
    def margin(self) -> Money:
        """Return charged less refund, postage and materials; stamp overpayment has its own column."""
        return self.charged - self.refund - self.postage - self.materials


def total(pieces: list[PieceMoney], nothing: Money) -> PieceMoney:
    """Return the sums over a batch; `nothing` gives the currency."""
    return PieceMoney(
        sum((piece.charged for piece in pieces), nothing),
        sum((piece.postage for piece in pieces), nothing),
        sum((piece.materials for piece in pieces), nothing),
        sum((piece.refund for piece in pieces), nothing),
        sum((piece.overpaid for piece in pieces), nothing),
    )
