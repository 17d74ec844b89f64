from decimal import Decimal

import pytest

from desk.domain.shop.mailer import Mailer, MailerKind
from desk.domain.shop.product import Product
from desk.domain.weight import NOTHING, Shown, Weight, WeightUnit
from desk.learning.expectation import Expectation, expect
from desk.learning.weight_check import check_weight


def grams(number):
    return Weight(Decimal(number))


BAG = Mailer("Bag", MailerKind.PADDED, tare=grams(20))
BOOK, CARD = Product("B", "Book", grams(300)), Product("C", "Card", grams(17))
UNKNOWN = Product("U", "Unknown")


def test_the_expected_weight_includes_mailer_insert_and_contents():
    assert expect([(BOOK, 2), (CARD, 3)], BAG, grams(3)) == Expectation(grams(674), grams(17))


@pytest.mark.parametrize(
    ("contents", "mailer"),
    [
        ([(BOOK, 1)], None),
        ([(BOOK, 1)], Mailer("Old", MailerKind.BOX)),
        ([(BOOK, 1), (None, 1)], BAG),
        ([(BOOK, 1), (UNKNOWN, 1)], BAG),
        ([], BAG),
    ],
)
def test_an_unknown_part_leaves_no_expectation(contents, mailer):
    assert expect(contents, mailer, NOTHING) is None


def shown(value, division="1"):
    return Shown(Decimal(value), WeightUnit.GRAM, Decimal(division))


@pytest.mark.parametrize(
    ("value", "division", "reported"),
    [
        ("100", "1", False),
        ("130", "1", False),  # heavier makes no difference here
        ("90", "1", False),  # half of the lightest, 20 g
        ("89", "1", True),
        ("80", "10", False),  # two steps of the scale
        ("79", "10", True),
    ],
)
def test_a_piece_is_too_light_below_half_of_its_lightest_item_and_two_steps(value, division, reported):
    found = check_weight(shown(value, division), Expectation(grams(100), grams(20)))
    assert (found is not None) is reported


def test_the_finding_gives_the_expected_and_missing_weight():
    found = check_weight(shown("60"), Expectation(grams(100), grams(20)))
    assert found.code == "lighter-than-contents"
    assert dict(found.facts) == {"expected_g": "100.0", "shown_g": "60.0", "missing_g": "40.0", "unit": "g"}
