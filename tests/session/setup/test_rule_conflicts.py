"""Rules that contradict each other are named, and rules that agree are not."""

from __future__ import annotations

import pytest

from desk.domain.shop.shop import ParcelPayment, Policy, usual_policy
from desk.session.setup.rule_conflicts import rule_conflicts


@pytest.mark.parametrize(
    ("payment", "services", "named"),
    [
        (ParcelPayment.ONLINE, ("ground-commercial",), ""),
        (ParcelPayment.ONLINE, ("ground-commercial", "ground-retail"), "ground (retail)"),
        (ParcelPayment.COUNTER, ("ground-retail", "media"), ""),
        (ParcelPayment.COUNTER, ("priority-commercial",), "priority (online)"),
        (ParcelPayment.ONLINE, ("media", "a-service-of-ones-own"), ""),
    ],
)
def test_prices_that_contradict_the_payment_method_are_named(rulebook, payment, services, named):
    found = rule_conflicts(Policy(parcel_payment=payment, parcel_services=services), rulebook.charts)
    assert (named in found.get("parcel_services", "")) is bool(named) or not named
    assert bool(found) is bool(named)


def test_a_new_shop_has_rules_that_agree_and_a_limit_of_four_stamps(rulebook):
    assert rule_conflicts(usual_policy(), rulebook.charts) == {}
    assert usual_policy().max_stamps == 4
