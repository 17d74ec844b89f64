from dataclasses import replace
from decimal import Decimal

import pytest

from desk.domain.exact import plain
from desk.domain.length import Length, Size
from desk.domain.money import Money
from desk.domain.shop.mailer import Mailer, MailerKind
from desk.domain.shop.product import Product, Restriction
from desk.domain.shop.shop import Policy, Untracked
from desk.domain.shop.stamp import StampKind, StampStock
from desk.domain.weight import Weight, WeightUnit
from desk.intake.shop.shop_file import read_shop, shop_of
from desk.intake.shop.shop_values import length_parts, product_values, shop_values, weight_parts


def again(shop):
    faults = []
    read = shop_of(shop_values(shop), lambda *fault: faults.append(fault))
    assert faults == []
    return read


@pytest.fixture(scope="module")
def demo(resources):
    return read_shop(resources / "demo" / "shop.toml")


def test_the_demo_shop_is_read_back_unchanged(demo):
    assert again(demo) == demo


@pytest.mark.parametrize(
    "policy",
    [
        Policy(untracked=Untracked.UP_TO, untracked_up_to=Money(4500)),
        Policy(untracked=Untracked.UP_TO, untracked_up_to=Money(0)),
        Policy(untracked=Untracked.ASKED, cautious=True, max_stamps=3, parcel_services=(), intl_services=()),
        Policy(
            currency="JPY", insert_cost=Money(4, "JPY"), label_cost=Money(3, "JPY"), label_weight=Weight.of("0.1", "oz")
        ),
        Policy(
            scale_division=Decimal("0.5"),
            scale_unit=WeightUnit.GRAM,
            scale_rounds_up=True,
            insert_weight=Weight.of(3, "g"),
        ),
    ],
)
def test_every_policy_is_read_back(demo, policy):
    shop = replace(demo, policy=policy, mailers=(), stamps=())
    assert again(shop).policy == policy


@pytest.mark.parametrize(
    "mailer",
    [
        Mailer("Bare", MailerKind.TUBE),
        Mailer("Metric", MailerKind.BOX, Size.of("230", "160", "31", "mm"), Weight.of("87.5", "g"), reused=True),
        Mailer("Inch", MailerKind.CARD, Size.of("6", "4.25", "0.012", "in"), Weight.of("0.28", "oz"), Money(999), 7),
        Mailer("Post's own", MailerKind.FLAT, stiff=True, paper=False, only_service="priority-flat-legal-retail"),
    ],
)
def test_every_mailer_is_read_back(demo, mailer):
    assert again(replace(demo, mailers=(mailer,))).mailers == (mailer,)


def test_a_product_and_a_stamp_are_read_back(demo):
    product = Product(
        "M1",
        "Magnet",
        Weight.of("16", "oz"),
        "Wooden box with magnet",
        "442190",
        origin="DE",
        thickness=Length.of("12.7", "mm"),
        restricted=(Restriction.MAGNET,),
        media=True,
    )
    stamps = (StampStock(StampKind.FACE, 12, Money(10)), StampStock(StampKind.FOREVER, 0))
    read = again(replace(demo, products=(product,), stamps=stamps))
    assert (read.products, read.stamps) == ((product,), stamps)


@pytest.mark.parametrize(
    ("grams", "parts"),
    [
        ("8", ("8", "g")),
        ("7.93786647500", ("0.28", "oz")),
        ("453.59237", ("16", "oz")),
        ("0.1234567", ("0.1234567", "g")),
        ("0", ("0", "g")),
    ],
)
def test_a_weight_is_written_in_the_unit_with_the_fewest_digits(grams, parts):
    assert weight_parts(Weight(Decimal(grams))) == parts
    assert Weight.of(*parts).grams == Decimal(grams)


def test_lengths_of_one_size_share_a_unit():
    assert length_parts(Length.of("9.5", "in"), Length.of("4.125", "in")) == ("9.5", "4.125", "in")
    assert length_parts(Length.of("9.5", "in"), Length.of("100", "mm")) == ("241.3", "100", "mm")


@pytest.mark.parametrize(("number", "text"), [("10", "10"), ("1E+2", "100"), ("2.50", "2.5"), ("0.0", "0")])
def test_numbers_have_no_trailing_zeros(number, text):
    assert plain(Decimal(number)) == text


@pytest.mark.parametrize("no_goods", [True, False])
def test_what_is_not_goods_stays_so_when_a_product_is_saved(no_goods):
    product = Product("GW", "Gift wrap", no_goods=no_goods)
    assert product_values(product).get("no_goods") == (True if no_goods else None)
