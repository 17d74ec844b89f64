"""The refund to a buyer who asked for a stamp."""

import pytest

from desk.costs.refunds import stamp_refund
from desk.domain.money import CurrencyMismatch, Money


@pytest.mark.parametrize(
    ("paid", "postage", "envelope", "expected"),
    [(500, 82, 12, 406), (500, 488, 12, 0), (500, 489, 12, 0), (94, 82, 12, 0), (95, 82, 12, 1), (0, 82, 12, 0)],
)
def test_a_returned_amount_is_never_below_zero(paid, postage, envelope, expected):
    assert stamp_refund(Money(paid), Money(postage), Money(envelope)) == Money(expected)


def test_two_currencies_are_never_mixed():
    with pytest.raises(CurrencyMismatch):
        stamp_refund(Money(500, "EUR"), Money(82), Money(12))
