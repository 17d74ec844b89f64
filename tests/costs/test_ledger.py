"""The money of a piece and of a batch: sums and margin."""

import pytest

from desk.costs.ledger import PieceMoney, total
from desk.domain.money import CurrencyMismatch, Money, zero


def piece(charged=500, postage=82, materials=19, refund=0, overpaid=0):
    return PieceMoney(Money(charged), Money(postage), Money(materials), Money(refund), Money(overpaid))


def test_the_margin_is_what_is_left_after_all_costs():
    assert piece().margin == Money(399)
    assert piece(refund=406).margin == Money(-7)
    assert piece(overpaid=53).margin == Money(399)  # in its own column


def test_a_batch_is_the_sum_of_its_pieces():
    summed = total([piece(), piece(charged=0, postage=860), piece(refund=406)], zero())
    assert total([piece(overpaid=3), piece(overpaid=50)], zero()).overpaid == Money(53)
    assert summed == piece(charged=1000, postage=1024, materials=57, refund=406)
    assert summed.margin == piece().margin + piece(charged=0, postage=860).margin + piece(refund=406).margin
    assert total([], zero("EUR")).margin == Money(0, "EUR")


def test_a_batch_in_two_currencies_has_no_sum():
    with pytest.raises(CurrencyMismatch):
        total([piece()], zero("EUR"))
