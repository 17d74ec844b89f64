"""Statuses that mean an order has already shipped. Common practice, no source."""

from __future__ import annotations

from functools import lru_cache

from desk.intake.columns.headers import folded

SHIPPED = frozenset(
    folded(word)
    for word in (
        "shipped|fulfilled|delivered|dispatched|sent|in transit|out for delivery|handed over|versendet|versandt|verschickt|geliefert"
        "|zugestellt|expédié|expédiée|envoyé|envoyée|livré|livrée|enviado|enviada|entregado|entregada|despachado"
    ).split("|")
)
YES = frozenset(map(folded, ("yes", "true", "y", "1", "ja", "oui", "sí")))


@lru_cache(maxsize=1024)
def is_shipped(status: str) -> bool:
    """Return whether a status means that the order has shipped."""
    return folded(status) in SHIPPED


@lru_cache(maxsize=1024)
def is_shipped_mark(text: str) -> bool:
    """Return whether a cell of a shipping column means shipped: a status, or just yes."""
    return is_shipped(text) or folded(text) in YES
