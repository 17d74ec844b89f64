"""A missing item and a large error show on the scale; the spread of paper and tape does not."""

from __future__ import annotations

from decimal import Decimal

import pytest

from desk.domain.finding import Severity
from desk.domain.weight import Shown, Weight, WeightUnit
from desk.learning.expectation import Expectation
from desk.learning.weight_check import check_weight


def weighed(shown: str, expected: int, lightest: int = 20, division: str = "0.1") -> tuple[str, str] | None:
    """Return the code and short facts for a reading in grams."""
    reading = Shown(Decimal(shown), WeightUnit.GRAM, Decimal(division))
    found = check_weight(reading, Expectation(Weight(Decimal(expected)), Weight(Decimal(lightest))))
    if found is None:
        return None
    assert found.severity is Severity.LOOK
    return found.code, f"{found.facts['shown_g']} for {found.facts['expected_g']}"


@pytest.mark.parametrize(
    ("shown", "expected", "reported"),
    [
        ("100", 100, None),
        ("90", 100, None),  # half the lightest item, exactly
        ("89.9", 100, ("lighter-than-contents", "89.9 for 100.0")),
        ("1", 100, ("lighter-than-contents", "1.0 for 100.0")),
        ("200", 100, None),  # twice, exactly
        ("200.1", 100, ("heavier-than-contents", "200.1 for 100.0")),
        ("1701", 34, ("heavier-than-contents", "1701.0 for 34.0")),  # 60 oz typed for a card of 34 g
        ("64", 14, None),  # 50 g more, exactly: a note or a catalog added
        ("64.1", 14, ("heavier-than-contents", "64.1 for 14.0")),
    ],
)
def test_weights_unlike_their_contents_are_reported(
    shown: str, expected: int, reported: tuple[str, str] | None
) -> None:
    assert weighed(shown, expected) == reported


def test_two_steps_of_a_coarse_scale_give_no_advice() -> None:
    assert weighed("50", 60, lightest=4, division="5") is None
    assert weighed("49", 60, lightest=4, division="5") == ("lighter-than-contents", "49.0 for 60.0")
