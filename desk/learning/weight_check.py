"""Check whether a parcel weighs what its contents explain: a forgotten item shows on the scale.

Common practice, no source.
"""

from __future__ import annotations

from decimal import Decimal

from desk.domain.finding import Code, Finding, finding
from desk.domain.weight import Shown, Weight
from desk.learning.expectation import Expectation

# Half the lightest item is the least that separates "one is missing" from the spread of paper and tape. Twice the
# expected weight plus 50 g cannot be spread: the weight was mistyped, or another parcel is on the pan. From memory.
SHARE_OF_LIGHTEST = Decimal("0.5")
GROSSLY = Weight(Decimal(50))
SOURCE = "common practice"  # no source


def check_weight(shown: Shown, expected: Expectation) -> Finding | None:
    """Return `lighter-than-contents`, `heavier-than-contents` or None.

    Lighter: more than half of the lightest item, and two steps of the scale, are missing. Heavier: more than twice the
    expected weight.
    """
    missing, excess = expected.gross - shown.weight, shown.weight - expected.gross
    facts = {
        "expected_g": f"{expected.gross.grams:.1f}",
        "shown_g": f"{shown.weight.grams:.1f}",
        "unit": shown.unit.value,
    }
    if missing > max(Weight(expected.lightest.grams * SHARE_OF_LIGHTEST), shown.step * 2):
        return finding(Code.LIGHTER_THAN_CONTENTS, SOURCE, None, **facts, missing_g=f"{missing.grams:.1f}")
    if excess > max(expected.gross, GROSSLY):
        return finding(Code.HEAVIER_THAN_CONTENTS, SOURCE, None, **facts, excess_g=f"{excess.grams:.1f}")
    return None
