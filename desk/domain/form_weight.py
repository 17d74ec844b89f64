"""The weight from which international mail needs a customs form: 16 oz packed, label included (IMM 123.631)."""

from __future__ import annotations

from desk.domain.weight import OUNCE_G, Weight

FORM_FROM = Weight(16 * OUNCE_G)


def needs_form_by_weight(packed: Weight) -> bool:
    """Return True for an item of 16 oz or more; documents below that need no form."""
    return packed >= FORM_FROM


def stretch_needs_form(end: Weight) -> bool:
    """Return the same for a range of weights by its upper end: a range that ends at 16 oz is below the limit."""
    return end > FORM_FROM
