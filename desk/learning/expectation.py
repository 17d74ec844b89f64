"""What a piece should weigh, from its products and its mailer.

Unit weights are those the shop entered. A sum is an expectation only when every part is known.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from desk.domain.shop.mailer import Mailer
from desk.domain.shop.product import Product
from desk.domain.weight import Weight


@dataclass(frozen=True, slots=True)
class Expectation:
    """The expected gross weight, and the weight of the lightest item that could be missing."""

    gross: Weight
    lightest: Weight


def expect(contents: Iterable[tuple[Product | None, int]], mailer: Mailer | None, insert: Weight) -> Expectation | None:
    """Return the expected gross weight of contents (product, count) in a mailer; None when a weight is unknown."""
    if mailer is None or mailer.tare is None:
        return None
    gross, units = mailer.tare + insert, []
    for product, count in contents:
        if product is None or product.unit_weight is None:
            return None
        gross += product.unit_weight * count
        units.append(product.unit_weight)
    return Expectation(gross, min(units)) if units else None
