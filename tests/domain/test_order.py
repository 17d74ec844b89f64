"""Orders and pieces: what the goods cost the buyer, and how a piece is named on papers."""

from decimal import Decimal

import pytest

from desk.domain.money import CurrencyMismatch, Money, zero
from desk.domain.orders.order import Order, OrderLine
from desk.domain.orders.piece import PieceKey, Weighing
from desk.domain.places.address import Address
from desk.domain.weight import Shown, WeightUnit


def order(*lines, **more):
    return Order("1001", Address(recipient="Ada Quill"), tuple(lines), **more)


@pytest.mark.parametrize(
    ("lines", "discount", "value"),
    [
        ([("12.00", 1)], "0", "12.00"),
        ([("12.00", 2), ("3.50", 3)], "0", "34.50"),
        ([("12.00", 2)], "4.00", "20.00"),
        ([("12.00", 1)], "12.00", "0.00"),
        ([("12.00", 1)], "15.00", "0.00"),  # a discount never makes goods worth less than zero
        ([], "0", "0.00"),
    ],
)
def test_the_value_of_the_goods_is_their_price_less_the_discount(lines, discount, value):
    bought = [OrderLine("Card", count, Money.of(price)) for price, count in lines]

    assert order(*bought, discount=Money.of(discount)).goods_value == Money.of(value)


def test_the_value_is_in_the_currency_of_the_order():
    bought = order(OrderLine("Card", 3, Money(500, "JPY")), currency="JPY", discount=zero("JPY"))

    assert bought.goods_value == Money(1500, "JPY")


def test_an_order_in_two_currencies_is_not_added_up():
    with pytest.raises(CurrencyMismatch):
        _ = order(OrderLine("Card", 1, Money(500, "EUR"))).goods_value


def test_orders_from_different_files_are_different_orders():
    assert order(source="a.csv") != order(source="b.csv")
    assert order(source="a.csv").number == order(source="b.csv").number


@pytest.mark.parametrize(
    ("key", "reference"), [(PieceKey("1001"), "1001-1"), (PieceKey("1001", 2), "1001-2"), (PieceKey("B-7", 3), "B-7-3")]
)
def test_the_reference_of_a_piece_is_its_order_and_number(key, reference):
    assert key.reference == reference


def test_a_weighing_has_no_remarks_by_default():
    weighing = Weighing(Shown(Decimal("119"), WeightUnit.GRAM, Decimal(1)))

    assert (weighing.mailer, weighing.size) == ("", None)
    assert (weighing.stiff, weighing.uneven) == (None, None)
