"""Packages of one order: the contents of each, and that together they equal the order to the piece and the cent."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from desk.domain.money import Money, zero
from desk.domain.orders.customs_details import CustomsDetails
from desk.domain.orders.order import Order, OrderLine
from desk.domain.orders.packages import PackedItem, packed_orders, read_packing
from desk.domain.places.address import Address

ORDER = Order(
    "1001",
    Address("Ada Quill"),
    (
        OrderLine("Card", 3, Money(650), "CD"),
        OrderLine("Notebook", 2, Money(1800)),
        OrderLine("Card", 1, Money(700), "CD"),
    ),
    discount=Money(100),
)


def parts(*texts, order=ORDER):
    return packed_orders(order, [read_packing(text) for text in texts])


@pytest.mark.parametrize(
    ("text", "items"),
    [
        ("CD x2; NB x1", [("CD", 2), ("NB", 1)]),
        ("CD \u00d7 2;NB", [("CD", 2), ("NB", 1)]),
        ("Box x2 large x3", [("Box x2 large", 3)]),
        (" ; ", []),
        ("", []),
    ],
)
def test_the_contents_of_a_package_are_read(text, items):
    assert read_packing(text) == tuple(PackedItem(*item) for item in items)


def test_an_item_with_a_count_of_zero_is_refused():
    with pytest.raises(ValueError, match="CD x0"):
        read_packing("CD x0")


def test_each_package_is_an_order_of_its_own():
    first, second = parts("CD x2; Notebook x1", "cd x2; notebook x1")
    assert [(line.item, line.quantity) for line in first.lines] == [("Card", 2), ("Notebook", 1)]
    assert [(line.item, line.quantity) for line in second.lines] == [("Card", 1), ("Notebook", 1), ("Card", 1)]
    assert first.goods_value + second.goods_value == ORDER.goods_value


@pytest.mark.parametrize(
    "texts",
    [
        ("CD x4; Notebook x1",),  # one notebook is missing
        ("CD x4; Notebook x3",),  # one notebook too many
        ("CD x4; Notebook x2; Pin x1",),  # not ordered
        ("CD x4; Notebook x2", ""),  # an empty package
        (),
    ],
)
def test_packages_that_differ_from_the_order_are_not_a_division(texts):
    assert parts(*texts) is None


@given(
    lines=st.lists(st.tuples(st.integers(1, 9), st.integers(0, 99_99)), min_size=1, max_size=6),
    discount=st.integers(0, 50_00),
    data=st.data(),
)
def test_packages_together_have_the_value_of_the_order_line_by_line(lines, discount, data):
    order = Order(
        "1",
        Address("Ada"),
        tuple(OrderLine(f"i{n}", q, Money(p), f"s{n}") for n, (q, p) in enumerate(lines)),
        discount=Money(discount),
    )
    counts = [data.draw(st.integers(0, line.quantity)) for line in order.lines]
    texts = [
        "; ".join(f"{line.sku} x{n}" for line, n in zip(order.lines, some, strict=True) if n)
        for some in (counts, [line.quantity - n for line, n in zip(order.lines, counts, strict=True)])
    ]
    divided = parts(*filter(None, texts), order=order)
    assert divided is not None
    for line, value in zip(order.lines, order.line_values, strict=True):
        got = [
            (part.lines[at].quantity, part.values[at])
            for part in divided
            for at in range(len(part.lines))
            if part.lines[at].sku == line.sku
        ]
        assert sum(count for count, _ in got) == line.quantity
        assert sum((worth for _, worth in got), zero()) == value


def test_a_customs_value_is_divided_and_goods_without_a_price_share_it_by_count():
    free = Order(
        "1",
        Address("Ada"),
        (OrderLine("Card", 3, Money(0), "CD"), OrderLine("Pin", 1, Money(0), "PN")),
        customs=CustomsDetails(value=Money(10_01)),
    )
    assert free.customs_values == (Money(751), Money(250))
    first, second = packed_orders(free, [read_packing("CD x1"), read_packing("CD x2; PN")])
    assert first.declared_value + second.declared_value == Money(10_01) == free.declared_value
    assert (first.goods_value, second.goods_value) == (Money(0), Money(0))
