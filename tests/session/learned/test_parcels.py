"""Pieces and readings in the terms of learning: contents by SKU, grams, and the digits that were shown."""

from __future__ import annotations

from dataclasses import replace
from decimal import Decimal

import pytest

from desk.domain.orders.order import Order, OrderLine
from desk.domain.orders.piece import PieceKey
from desk.domain.weight import Shown, WeightUnit
from desk.session.learned.parcels import parcel_of, product_key, reading_of
from desk.session.verdict.case import Case
from tests.session import made

SHOP = made.shop()


def line(item: str, sku: str = "", quantity: int = 1) -> OrderLine:
    return replace(made.order().lines[0], item=item, sku=sku, quantity=quantity)


def case(*lines: OrderLine, **fields) -> Case:
    order: Order = replace(made.order(), lines=lines)
    return Case(key=PieceKey(order.number), order=order, **({"mailer": "A7"} | fields))


def test_the_same_product_by_sku_and_by_name_is_one_product():
    parcel = parcel_of(case(line("Card", "CD", 2), line("Card", "", 1)), SHOP)
    assert parcel is not None
    assert parcel.contents == {"CD": 3}


def test_an_unlisted_product_is_learned_under_its_name_in_the_order():
    assert product_key(line("Vase"), SHOP) == "Vase"


@pytest.mark.parametrize("fields", [{"pieces_in_order": 2}, {"mailer": ""}])
def test_nothing_is_learned_from_unknown_contents_or_mailers(fields):
    assert parcel_of(case(line("Card"), **fields), SHOP) is None


@pytest.mark.parametrize(
    ("value", "unit", "grams", "digits"),
    [
        ("1.2", WeightUnit.OUNCE, 34.019427750, "1.2"),
        ("119", WeightUnit.GRAM, 119.0, "119"),
        ("19.2", WeightUnit.POUND_OUNCE, 544.3108440, ""),  # shown as 1 lb 3.2 oz: no digits to mix up
    ],
)
def test_a_reading_has_grams_step_and_digits(value, unit, grams, digits):
    reading = reading_of(Shown(Decimal(value), unit, Decimal("0.1")))
    assert reading.grams == pytest.approx(grams)
    assert reading.digits == digits


def test_a_line_with_a_quantity_of_zero_is_not_in_the_parcel():
    parcel = parcel_of(case(line("Card", "CD", 2), line("Book", "NB", 0)), SHOP)
    assert parcel is not None
    assert parcel.contents == {"CD": 2}
    assert parcel_of(case(line("Card", "CD", 0)), SHOP) is None
