"""The sums the shop sets are kept and undone."""

from __future__ import annotations

from desk.domain.money import Money
from desk.session.money.charging import ShippingCost, overcharged
from desk.session.money.thresholds import Thresholds, set_difference, set_overcharged, thresholds
from desk.session.undo import undo


def test_each_amount_is_saved_separately_and_undone(sitting) -> None:
    set_difference(sitting, Money(50))
    set_overcharged(sitting, Money(200))
    assert thresholds(sitting) == Thresholds(Money(50), Money(200))
    set_overcharged(sitting, None)
    assert thresholds(sitting) == Thresholds(Money(50), None)
    undo(sitting)
    undo(sitting)
    assert thresholds(sitting) == Thresholds(Money(50), None)
    undo(sitting)
    assert thresholds(sitting) == Thresholds()


def test_an_order_at_the_limit_is_not_overcharged_and_one_cent_more_is() -> None:
    costs = [ShippingCost(str(paid), "United States", Money(300), Money(paid)) for paid in (500, 501)]
    assert [one.order for one in overcharged(costs, Money(200))] == ["501"]
