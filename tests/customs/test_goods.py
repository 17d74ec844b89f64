"""Goods of an order: what the shop knows about each line, and its share of the discount."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from desk.customs.goods import goods_of
from desk.domain.money import Money, shared_out, zero
from desk.domain.orders.order import Order, OrderLine
from desk.domain.places.address import Address
from desk.domain.shop.product import Product
from desk.domain.shop.shop import Shop
from tests.customs.conftest import goods, grams, usd

BOOK = Product("NB-1", "Pocket notebook", grams("150"), "Bound paper notebook, lined", "4820.10", origin="US")
LETTER = Product("TY", "Thank-you note", grams("5"), document=True)
SHOP = Shop(Address("Sorrel Street Bindery"), products=(BOOK, LETTER))


def order(*lines: OrderLine, discount: str = "0.00") -> Order:
    return Order("101", Address("Wilma Tern", country="DE"), lines, discount=usd(discount))


def test_a_known_product_gives_description_code_origin_and_weight():
    (line,) = goods_of(order(OrderLine("A book", 2, usd("9.00"), sku="NB-1")), SHOP)
    assert line.words == "Bound paper notebook, lined"
    assert (line.hs, line.hs_edition, line.origin, line.known) == ("4820.10", "HS 2022", "US", True)
    assert line.net == grams("300")
    assert line.value == usd("18.00")


def test_a_product_without_a_customs_description_uses_its_name():
    (line,) = goods_of(order(OrderLine("Thank-you note", 1, usd("0.00"))), SHOP)
    assert (line.words, line.document) == ("Thank-you note", True)


def test_an_unknown_product_has_only_its_name_from_the_order():
    (line,) = goods_of(order(OrderLine("Mystery parcel", 1, usd("4.00"))), SHOP)
    assert (line.words, line.known, line.hs, line.hs_edition, line.origin) == ("Mystery parcel", False, "", "", "")
    assert line.net is None


def test_the_discount_is_shared_to_the_cent():
    lines = [OrderLine("Thank-you note", 1, usd("10.00"))] * 3
    got = goods_of(order(*lines, discount="0.01"), SHOP)
    assert [line.value for line in got] == [usd("10.00"), usd("10.00"), usd("9.99")]


def test_a_discount_above_the_goods_leaves_nothing():
    got = goods_of(order(OrderLine("A", 1, usd("3.00")), OrderLine("B", 1, usd("2.00")), discount="9.00"), SHOP)
    assert [line.value for line in got] == [zero(), zero()]


def test_an_order_without_lines_has_no_goods():
    assert goods_of(order(), SHOP) == ()


def test_lines_without_a_price_get_no_share_of_the_discount():
    assert shared_out(usd("5.00"), [zero(), zero()]) == (zero(), zero())


def test_the_leftover_cent_goes_to_the_largest_remainder_and_then_to_the_first_line():
    assert shared_out(Money(10), [Money(1), Money(2), Money(3)]) == (Money(2), Money(3), Money(5))
    assert shared_out(Money(2), [Money(1), Money(1), Money(1)]) == (Money(1), Money(1), Money(0))


@given(st.lists(st.integers(0, 10**6), max_size=12), st.integers(0, 10**7))
def test_shares_of_the_discount_add_up_to_it(prices, discount):
    whole = sum(prices)
    total = Money(max(whole - discount, 0))
    parts = shared_out(total, [Money(price) for price in prices])
    assert sum(part.minor for part in parts) == total.minor
    assert all(0 <= part.minor <= price for part, price in zip(parts, prices, strict=True))


def test_the_net_weight_is_for_the_whole_line():
    assert goods(quantity=3, unit_net=grams("12")).net == grams("36")


def test_learned_weights_are_used_where_none_is_typed_and_shared_by_lines_of_one_product():
    typed, untyped = Product("A", "Card", grams("17")), Product("B", "Book")
    lines = (
        OrderLine("Book", 1, usd("9"), "B"),
        OrderLine("Card", 1, usd("5"), "A"),
        OrderLine("Book", 2, usd("9"), "B"),
    )
    shop = Shop(Address(), products=(typed, untyped))
    found = goods_of(Order("1", Address(), lines), shop, {"A": 99, "B": 100})
    assert [line.net.grams for line in found] == [33, 17, 67]
    assert [line.is_learned for line in found] == [True, False, True]
    assert next(line.net for line in goods_of(Order("1", Address(), lines), shop)) is None


@pytest.mark.parametrize(
    ("typed", "learned", "is_learned"),
    [("150", 140, False), (None, 140, True), (None, None, False), ("150", None, False)],
)
def test_a_weight_is_learned_only_when_none_was_typed(typed, learned, is_learned):
    line = goods(unit_net=grams(typed) if typed else None, learned_g=learned)
    assert line.is_learned is is_learned


def test_lines_that_ship_nothing_have_no_learned_weight():
    none = OrderLine("Pocket notebook", 0, usd("1.00"), sku="NB-1")
    assert [line.learned_g for line in goods_of(order(none), SHOP, {"NB-1": 150})] == [None]
