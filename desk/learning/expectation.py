"""What a piece ought to weigh, by what its products and its mailer weigh.

Unit weights are those the shop has typed. A sum is only an expectation when every part of it is known.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from desk.domain.shop.mailer import Mailer
from desk.domain.shop.product import Product
from desk.domain.weight import Weight


@dataclass(frozen=True, slots=True)
class Expectation:
    """The expected gross weight, and the weight of the lightest thing that could be missing from it."""

    gross: Weight
    lightest: Weight


def expect(contents: Iterable[tuple[Product | None, int]], mailer: Mailer | None, insert: Weight) -> Expectation | None:
    """The expected gross weight of contents (product, count) in a mailer; None when a weight is not known."""
    if mailer is None or mailer.tare is None:
        return None
    gross, units = mailer.tare + insert, []
    for product, count in contents:
        if product is None or product.unit_weight is None:
            return None
        gross += product.unit_weight * count
        units.append(product.unit_weight)
    return Expectation(gross, min(units)) if units else None
