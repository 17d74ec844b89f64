"""Lines less discounts plus shipping, and tax where given, are the order's total to the cent, or the order has an issue."""

from __future__ import annotations

import csv
import io
import tempfile
from pathlib import Path

from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from desk.domain.codes import Code
from tests.intake.tables import put, read_list

CENTS = st.integers(0, 9_999)
HEADER = [
    "Order No",
    "Ship To",
    "Country",
    "Product",
    "Qty",
    "Unit Price",
    "Shipping Cost",
    "Tax",
    "Discount Amount",
    "Order Total",
]


def text(cents: int) -> str:
    return f"{cents / 100:.2f}"


@st.composite
def order_lists(draw: st.DrawFn) -> tuple[str, dict[str, bool | None]]:
    """A list, and for each order whether its total is what the lines come to; None where the discount reads two ways."""
    rows: list[list[str]] = []
    is_right: dict[str, bool | None] = {}
    for number in range(1, draw(st.integers(1, 5)) + 1):
        lines = draw(st.lists(st.tuples(st.integers(1, 9), CENTS), min_size=1, max_size=3))
        shipping, tax, discount = draw(CENTS), draw(st.integers(0, 500)), draw(st.integers(0, 300))
        if discount <= 100 or discount > sum(quantity * price for quantity, price in lines):
            discount = 0  # up to 1.00 it may be a share of the price as well, and none is more than the goods
        off_by = draw(st.sampled_from([0, 0, 0, 1, -1, 250]))
        goods = sum(quantity * price for quantity, price in lines)
        total = goods - discount + shipping + (tax if draw(st.booleans()) else 0)
        first = lines[0][0] * lines[0][1]
        shares = {goods - whole * discount / 10_000 + shipping for whole in (goods, first)}  # 1.89 may be 1.89 percent
        reads_otherwise = any(abs(total + off_by - more - share) <= 1 for share in shares for more in (0, tax))
        right = off_by == 0 or total + off_by in (goods - discount + shipping, goods - discount + shipping + tax)
        is_right[str(number)] = None if reads_otherwise and not right else right
        for at, (quantity, price) in enumerate(lines):
            once = [text(shipping), text(tax), text(discount), text(total + off_by)] if at == 0 else [""] * 4
            rows.append([str(number), "Ada Finch", "US", f"Card {at}", str(quantity), text(price), *once])
    out = io.StringIO()
    csv.writer(out).writerows([HEADER, *rows])
    return out.getvalue(), is_right


@settings(max_examples=120, deadline=None, suppress_health_check=[HealthCheck.too_slow])
@given(made=order_lists())
def test_a_total_that_is_not_what_the_lines_come_to_is_an_issue(made: tuple[str, dict[str, bool | None]]) -> None:
    content, is_right = made
    with tempfile.TemporaryDirectory() as folder:
        orders = read_list(put(Path(folder), "orders.csv", content)).orders
    assert {order.number for order in orders} == is_right.keys()
    for order in orders:
        codes = {found.code for found in order.findings}
        if is_right[order.number] is None:
            continue
        assert (Code.TOTAL_DIFFERS in codes) == (not is_right[order.number]) or Code.CELL_NOT_READ in codes


KINDS = {"Card": 1, "Coupon: SPRING": -1, "Shipping": 1, "Gift wrap": 1, "Sales tax": 1, "Tip": 1}


@st.composite
def lists_with_lines_that_are_no_goods(draw: st.DrawFn) -> tuple[str, dict[str, bool], dict[str, int]]:
    """A list whose discounts and charges are lines; which totals are right, and what the goods of each order come to."""
    rows, is_right, goods = [], {}, {}
    for number in map(str, range(1, draw(st.integers(1, 4)) + 1)):
        kinds = ["Card", *draw(st.lists(st.sampled_from(sorted(KINDS)), max_size=4))]
        amounts = [(kind, KINDS[kind] * draw(st.integers(1, 9_999))) for kind in kinds]
        tax = sum(amount for kind, amount in amounts if kind == "Sales tax")
        total = sum(amount for _, amount in amounts)
        off_by = draw(st.sampled_from([0, 0, 1, -1, 250]))
        goods[number] = sum(amount for kind, amount in amounts if kind == "Card")
        is_right[number] = total + off_by in (total, total - tax)
        rows += [[number, "Ada Finch", "US", kind, "1", text(amount), text(total + off_by)] for kind, amount in amounts]
    out = io.StringIO()
    csv.writer(out).writerows([[*HEADER[:6], "Order Total"], *rows])
    return out.getvalue(), is_right, goods


@settings(max_examples=60, deadline=None, suppress_health_check=[HealthCheck.too_slow])
@given(made=lists_with_lines_that_are_no_goods())
def test_lines_that_are_not_goods_count_in_the_total_but_are_never_declared(
    made: tuple[str, dict[str, bool], dict[str, int]],
) -> None:
    content, is_right, goods = made
    with tempfile.TemporaryDirectory() as folder:
        orders = read_list(put(Path(folder), "orders.csv", content)).orders
    for order in orders:
        codes = {found.code for found in order.findings}
        assert (Code.TOTAL_DIFFERS in codes) == (not is_right[order.number])
        assert {line.item for line in order.lines} == {"Card"}
        assert sum(line.unit_price.minor * line.quantity for line in order.lines) == goods[order.number]
