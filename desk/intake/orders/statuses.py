"""Statuses that mean an order has already shipped. Common practice, no source."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from desk.intake.columns.headers import folded
from desk.intake.columns.yes_no import YesNoColumn

SHIPPED = frozenset(
    folded(word)
    for word in (
        "shipped|fulfilled|delivered|dispatched|sent|in transit|out for delivery|handed over|versendet|versandt|verschickt|geliefert"
        "|zugestellt|expédié|expédiée|envoyé|envoyée|livré|livrée|enviado|enviada|entregado|entregada|despachado"
    ).split("|")
)


def is_shipped(status: str) -> bool:
    """Return whether a status means that the order has shipped."""
    return folded(status) in SHIPPED


@dataclass(frozen=True, slots=True)
class ShippedColumn:
    """How a shipping column marks an order as shipped: by a status, or just yes."""

    yes_no: YesNoColumn

    @classmethod
    def of(cls, cells: Iterable[str]) -> ShippedColumn:
        """Return how these cells mark it; a count of packages does not mean yes."""
        return cls(YesNoColumn.of(cells))

    def is_shipped(self, text: str) -> bool:
        """Return whether a cell means shipped."""
        return is_shipped(text) or self.yes_no.is_yes(text)
