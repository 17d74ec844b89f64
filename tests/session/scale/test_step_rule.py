"""The scale's step and the unit of a bare number, as the shop or the live scale has them."""

from decimal import Decimal

import pytest

from desk.domain.faults import Refused
from desk.domain.weight import Shown, WeightUnit
from desk.session.scale.step_rule import step_rule, typed_weight
from tests.session.made import policy

OZ, LB_OZ, G, LB = WeightUnit.OUNCE, WeightUnit.POUND_OUNCE, WeightUnit.GRAM, WeightUnit.POUND
STEP = Decimal("0.05")


@pytest.mark.parametrize(
    ("unit", "division", "rule"),
    [(None, None, (None, "oz")), (OZ, STEP, (STEP, "oz")), (LB_OZ, STEP, (STEP, "oz")), (G, Decimal(1), (1, "g"))],
)
def test_the_step_is_the_one_printed_on_the_scale(unit, division, rule):
    found = step_rule(policy(scale_unit=unit, scale_division=division))
    assert (found.division, found.unit) == rule


@pytest.mark.parametrize(
    ("text", "unit", "division", "shown"),
    [
        ("1.2", None, None, Shown(Decimal("1.2"), OZ, Decimal("0.1"))),
        ("35", G, Decimal(1), Shown(Decimal(35), G, Decimal(1))),
        ("1.20", OZ, STEP, Shown(Decimal("1.20"), OZ, STEP)),
        ("35 g", OZ, None, Shown(Decimal(35), G, Decimal(1))),
    ],
)
def test_a_number_without_a_unit_is_in_the_shops_unit_or_ounces(text, unit, division, shown):
    assert typed_weight(text, policy(scale_unit=unit, scale_division=division)) == shown


def test_the_live_scale_overrides_the_shop():
    live = Shown(Decimal("4.20"), LB, Decimal("0.02"))
    assert typed_weight("3.5", policy(scale_unit=G, scale_division=Decimal(1)), live) == Shown(
        Decimal("3.5"), LB, Decimal("0.02")
    )


@pytest.mark.parametrize("text", ["", "abc", "1.2 stones", "-1", "1.2.3"])
def test_a_text_that_is_not_a_weight_is_refused_with_a_sentence(text):
    with pytest.raises(Refused) as reported:
        typed_weight(text, policy())
    assert reported.value.sentence.endswith(".")
