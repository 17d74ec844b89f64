"""Which mailer is assumed: the product's own for one item, else the smallest by thickness and face; and families."""

from __future__ import annotations

from dataclasses import replace

import pytest

from desk.domain.length import Length, Size
from desk.domain.money import Money
from desk.domain.orders.order import OrderLine
from desk.domain.shop.mailer import MailerKind
from desk.session.verdict.default_mailer import face_fits, family_of, smallest_that_fits, too_small_for, usual_mailer
from tests.session import made


def inches(text):
    return Length.of(text, "in")


@pytest.mark.parametrize(
    ("length", "width", "mailer"),
    [
        ("7.25", "5.25", "A7"),
        ("5.25", "7.25", "A7"),
        ("7.26", "5.25", "Board"),
        ("7.25", "5.26", "Board"),
        ("11", "5", "Board"),
    ],
)
def test_length_and_width_of_a_product_have_to_fit_as_well(length, width, mailer):
    """The A7 envelope is 7.25 x 5.25 in; the board, 12 x 9 x 0.3 in, is next in volume."""
    card = replace(made.CARD, length=inches(length), width=inches(width))
    board = replace(made.BOARD, reused=False)
    shop = made.shop(products=(card,), mailers=(made.ENVELOPE, made.PADDED, board))
    found = smallest_that_fits(made.order(), shop)
    assert (found and found.name) == mailer


@pytest.mark.parametrize(("quantity", "expected"), [(1, "Padded"), (2, None)])
def test_the_mailer_of_a_product_applies_to_a_single_item_only(quantity, expected):
    shop = made.shop(products=(replace(made.CARD, usual_mailer="Padded"),))
    found = usual_mailer(made.order(lines=(made.line(made.CARD, quantity),)), shop)
    assert (found and found.name) == expected


def test_a_usual_mailer_that_was_deleted_is_not_assumed():
    shop = made.shop(products=(replace(made.CARD, usual_mailer="Sack"),))
    assert usual_mailer(made.order(), shop) is None


def item(name, variant="", quantity=1):
    return OrderLine(name, quantity, Money(100), variant=variant)


@pytest.mark.parametrize(
    ("lines", "family"),
    [
        ((item("Card, heron", "heron"),), "Card"),
        ((item("Card - Blue", "blue"),), "Card"),
        ((item("Card", "blue"),), "Card"),
        ((item("blue", "blue"),), "blue"),
        ((item("Pin", quantity=2), item("Card", "x")), "Card, 2 x Pin"),
    ],
)
def test_a_family_is_the_names_without_variants(lines, family):
    assert family_of(made.order(lines=lines), made.shop()) == family


def test_a_known_product_is_named_as_the_shop_names_it():
    assert (
        family_of(made.order(lines=(OrderLine("Greeting", 1, Money(1), sku="CD", variant="blue"),)), made.shop())
        == "Card"
    )


def test_a_run_uses_the_mailer_a_product_names_and_guesses_none(judged):
    named = made.shop(products=(replace(made.CARD, usual_mailer="A7"),))
    assert judged("0.7", "", shop=named).offer.service == "letter-stamped"
    bare = judged("0.7", "")
    assert "size-missing" in [found.code for found in bare.findings]
    assert bare.offer.service == "ground-retail"


def product(length, width, thickness=""):
    sides = {"length": inches(length), "width": inches(width)}
    return replace(made.CARD, **sides, thickness=inches(thickness) if thickness else None)


@pytest.mark.parametrize(
    ("kind", "sides", "fits"),
    [
        (MailerKind.ENVELOPE, ("9.5", "4.125"), True),
        (MailerKind.ENVELOPE, ("4.125", "9.5"), True),
        (MailerKind.ENVELOPE, ("9.51", "4.125"), False),
        (MailerKind.ENVELOPE, ("9.5", "4.13"), False),
        (MailerKind.TUBE, ("24", "9.5"), True),  # rolled along its longer side
        (MailerKind.TUBE, ("24", "9.6"), False),
        (MailerKind.BOX, ("9.5", "3", "4.1"), True),  # lies on its side
        (MailerKind.BOX, ("9.5", "4.2", "3"), False),
        (None, ("9.6", "4"), False),
        (MailerKind.PADDED, ("3", "3", "0.06"), True),  # thickness is judged apart, except in a box
    ],
)
def test_a_product_larger_than_the_mailer_is_reported(kind, sides, fits):
    thickness = "3" if kind is MailerKind.BOX else "0.05"
    assert face_fits(product(*sides), Size.of("9.5", "4.125", thickness, "in"), kind) is fits


def test_a_product_that_is_too_long_is_reported_with_both_sizes():
    found = too_small_for(Size.of("9.5", "4.125", "0.05", "in"), MailerKind.ENVELOPE, [product("11", "8.5")])
    facts = {"product": "Card", "measure": "face", "contents_in": "11.00 × 8.50", "outside_in": "9.50 × 4.12"}
    assert found
    assert (found.code, dict(found.facts)) == ("mailer-too-small", facts)


def test_without_sizes_nothing_is_too_large():
    assert too_small_for(Size.of("5", "4", "0.05", "in"), MailerKind.ENVELOPE, [made.CARD]) is None
    assert too_small_for(None, None, [product("11", "8.5")]) is None


def test_a_card_is_never_the_smallest_mailer():
    """A plain card goes without an envelope, so nothing can be put into it."""
    card = replace(made.ENVELOPE, name="Card", kind=MailerKind.CARD, size=Size.of("7", "5", "0.06", "in"))
    shop = made.shop(mailers=(card, made.ENVELOPE))
    assert smallest_that_fits(made.order(), shop).name == "A7"


def test_the_thickest_product_is_named_first():
    thin, thick = (
        replace(made.BOOK, name=name, thickness=inches(deep)) for name, deep in (("Zine", "0.4"), ("Book", "0.7"))
    )
    found = too_small_for(Size.of("12", "9", "0.3", "in"), MailerKind.RIGID, [thin, thick])
    assert found.facts["product"] == "Book"
    assert (
        too_small_for(Size.of("12", "9", "0.3", "in"), MailerKind.RIGID, [replace(thin, name="")]).facts["product"]
        == "NB"
    )


def test_a_usual_mailer_applies_to_one_line_of_one_item():
    one = made.order(lines=(made.line(made.BOOK),))
    book = replace(made.BOOK, usual_mailer="Padded")
    shop = made.shop(products=(book, made.CARD))
    assert usual_mailer(one, shop).name == "Padded"
    assert usual_mailer(made.order(lines=(made.line(made.BOOK), made.line())), shop) is None
    assert usual_mailer(made.order(lines=(made.line(made.BOOK, 2),)), shop) is None


@pytest.mark.parametrize(("length", "width"), [("20", None), (None, "20"), (None, None)])
def test_a_product_with_one_unknown_side_fits_anywhere(length, width):
    product = replace(made.CARD, length=length and inches(length), width=width and inches(width))
    assert face_fits(product, Size.of("7", "5", "0.1", "in"), MailerKind.ENVELOPE)
