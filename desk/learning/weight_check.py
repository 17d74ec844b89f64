"""Does a parcel weigh what its contents explain? Common practice, no source: a forgotten item shows on the scale."""

from __future__ import annotations

from decimal import Decimal

from desk.domain.finding import Finding, finding
from desk.domain.weight import Shown, Weight
from desk.learning.expectation import Expectation

# Half the lightest item is the least that tells "one is missing" from the spread of paper and tape; from memory.
SHARE_OF_LIGHTEST = Decimal("0.5")


def check_weight(shown: Shown, expected: Expectation) -> Finding | None:
    """`lighter-than-contents` when more than half of the lightest item, and two steps of the scale, are missing."""
    missing = expected.gross - shown.weight
    threshold = max(Weight(expected.lightest.grams * SHARE_OF_LIGHTEST), shown.step * 2)
    if missing <= threshold:
        return None
    return finding(
        "lighter-than-contents",
        "common practice, no source",
        expected_g=f"{expected.gross.grams:.1f}",
        shown_g=f"{shown.weight.grams:.1f}",
        missing_g=f"{missing.grams:.1f}",
    )
