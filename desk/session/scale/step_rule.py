"""The scale's step as the shop has it, and the unit a bare number is typed in."""

from __future__ import annotations

from decimal import Decimal

from desk.domain.faults import Refused
from desk.domain.shop.shop import Policy
from desk.domain.weight import Shown, WeightUnit
from desk.scales.settling import StepRule
from desk.scales.typed import EXAMPLES, parse_typed
from desk.session.words.figures import measure
from desk.session.words.typed_numbers import with_points


def step_rule(policy: Policy) -> StepRule:
    """Return the settling rule for the step printed on the scale."""
    unit = policy.scale_unit or WeightUnit.OUNCE
    return StepRule(policy.scale_division, unit.counted_in.value)


def typed_weight(text: str, policy: Policy, live: Shown | None = None) -> Shown:
    """Return a typed weight; a bare number is in the scale's unit, else the shop's, else ounces. Refused if unclear."""
    unit: WeightUnit = live.unit if live else policy.scale_unit or WeightUnit.OUNCE
    division: Decimal | None = live.division if live else policy.scale_division
    return read_weight(text, unit, division)


def read_weight(text: str, unit: WeightUnit, division: Decimal | None = None) -> Shown:
    """Return a weight typed as the locale writes numbers; see `parse_typed`. Refused, with examples of the locale."""
    try:
        return parse_typed(with_points(text), unit, division)
    except Refused as refused:
        raise Refused(refused.sentence.replace(EXAMPLES, measure(EXAMPLES))) from None
