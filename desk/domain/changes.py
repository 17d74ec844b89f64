"""Changes: the kinds and ids a step touched, without the new values, which have to be read again."""

from __future__ import annotations

from dataclasses import dataclass

EVERYTHING = frozenset({-1})  # an id set that means all of that kind


@dataclass(frozen=True, slots=True)
class Changes:
    """What an act touched, by kind: ids of pieces and orders, and flags for the rest."""

    pieces: frozenset[int] = frozenset()
    orders: frozenset[int] = frozenset()
    shop: bool = False
    settings: bool = False

    def __or__(self, other: Changes) -> Changes:
        return Changes(
            self.pieces | other.pieces,
            self.orders | other.orders,
            self.shop or other.shop,
            self.settings or other.settings,
        )
