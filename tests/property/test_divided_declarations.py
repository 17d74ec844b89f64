"""Whatever is ordered and however it is packed: what all packages declare is what was ordered, to the gram and cent."""

from __future__ import annotations

from dataclasses import replace
from decimal import Decimal

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from desk.customs.form import NONE
from desk.domain.money import Money, zero
from desk.domain.orders.order import Order, OrderLine
from desk.domain.orders.packages import PackedItem, packed_orders
from desk.domain.orders.piece import PieceKey
from desk.domain.shop.product import Product
from desk.domain.weight import Weight
from desk.session.contents.worksheet_contents import keying_content
from desk.session.rulebook import read_rulebook
from desk.session.verdict.case import Case
from desk.session.verdict.judge import judge
from desk.session.verdict.verdict import Terms
from desk.session.words.sentences import sentence
from tests.conftest import ROOT
from tests.session.made import FRANCE, ON, shop, weighing

NAMES = "ABCD"
PRODUCTS = tuple(
    Product(name, f"Thing {name}", Weight(Decimal(weight)), f"Printed cotton paper thing {name}", hs, origin=origin)
    for name, weight, hs, origin in zip(NAMES, (7, 40, 133, 310), ("482010", "", "490900", "491191"), "US US  US".split(" "), strict=False)
)  # fmt: skip
WRAP = Product("W", "Gift wrap", no_goods=True)
SHOP = shop(products=(*PRODUCTS, WRAP))
LINES = st.lists(st.tuples(st.sampled_from(NAMES), st.integers(1, 5), st.integers(0, 4000)), min_size=1, max_size=4, unique_by=lambda line: line[0])  # fmt: skip


@pytest.fixture(scope="module")
def terms() -> Terms:
    return Terms(SHOP, read_rulebook(ROOT / "resources"), ON)


@st.composite
def divided(draw: st.DrawFn) -> tuple[Order, tuple[Order, ...]]:
    """An order with a discount and perhaps gift wrap, and its part in each of up to three packages."""
    chosen = draw(LINES)
    lines = tuple(OrderLine(f"Thing {name}", count, Money(price), name) for name, count, price in chosen)
    if draw(st.booleans()):
        lines += (OrderLine("Gift wrap", 1, Money(300), "W"),)
    total = sum(line.unit_price.minor * line.quantity for line in lines)
    order = Order("1", FRANCE, lines, discount=Money(draw(st.integers(0, total))))
    pieces = draw(st.integers(1, 3))
    units = [line.sku for line in lines for _ in range(line.quantity)]
    where = draw(st.lists(st.integers(0, pieces - 1), min_size=len(units), max_size=len(units)))
    packings = [
        tuple(PackedItem(sku, 1) for sku, at in zip(units, where, strict=True) if at == place)
        for place in range(pieces)
    ]
    parts = packed_orders(order, [packing for packing in packings if packing])
    assert parts is not None
    return order, parts


def verdict_on(part: Order, place: int, count: int, gross: int, terms: Terms):  # type: ignore[no-untyped-def]
    weighed = weighing(str(gross), "Padded", "g")
    return judge(
        Case(key=PieceKey("1", place), order=part, weighing=weighed, pieces_in_order=count, is_divided=count > 1), terms
    )


@settings(max_examples=60, deadline=None)
@given(divided(), st.integers(20, 3000))
def test_the_packages_of_an_order_together_declare_what_was_ordered(
    terms: Terms, made: tuple[Order, tuple[Order, ...]], gross: int
) -> None:
    order, parts = made
    found = [verdict_on(part, place, len(parts), gross, terms) for place, part in enumerate(parts, 1)]
    lines = [line for verdict in found for line in verdict.declaration.lines if line.description]
    goods = [line for line in order.lines if line.sku != "W"]
    values = dict(zip((line.sku for line in order.lines), order.line_values, strict=True))
    if len(parts) > 1 or len(goods) == len(order.lines):
        expected = sum((value for sku, value in values.items() if sku != "W"), zero())
        assert sum((line.value for line in lines), zero()) == expected
    weights = {product.key: int(product.unit_weight.grams) for product in PRODUCTS if product.unit_weight}
    assert sum(line.net_g for line in lines) == sum(weights[line.sku] * line.quantity for line in goods)
    assert sum(line.quantity for line in lines) == sum(line.quantity for line in goods)


@settings(max_examples=60, deadline=None)
@given(divided(), st.integers(20, 3000))
def test_net_above_gross_is_always_reported_and_no_worksheet_hides_an_issue(
    terms: Terms, made: tuple[Order, tuple[Order, ...]], gross: int
) -> None:
    for place, part in enumerate(made[1], 1):
        verdict = verdict_on(part, place, len(made[1]), gross, terms)
        declared = verdict.declaration
        over = declared.total_net_g is not None and declared.total_net_g > gross
        assert over == ("net-over-gross" in [str(one.code) for one in verdict.findings])
        if declared.form != NONE:
            sheet = keying_content(verdict, terms)
            assert sheet is not None
            assert set(sheet.to_fix) == {sentence(one) for one in verdict.customs_open}
            assert verdict.status != "ready" or not sheet.to_fix


def test_a_gift_wrap_packed_with_goods_is_never_declared(terms: Terms) -> None:
    lines = (OrderLine("Thing A", 1, Money(500), "A"), OrderLine("Gift wrap", 1, Money(300), "W"))
    parts = packed_orders(Order("1", FRANCE, (*lines, replace(lines[0], item="Thing C", sku="C"))), [(PackedItem("A", 1), PackedItem("W", 1)), (PackedItem("C", 1),)])  # fmt: skip
    assert parts is not None
    first = verdict_on(parts[0], 1, 2, 200, terms)
    assert [line.value for line in first.declaration.lines] == [Money(500)]
