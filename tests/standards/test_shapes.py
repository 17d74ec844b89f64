"""Shapes against the published standards: each row names the section it was taken from."""

from __future__ import annotations

import pytest

from desk.domain.length import Size, inches
from desk.domain.weight import Weight
from desk.rates.shape import Traits, classify, form_of, girth_around

LETTER, NONMACHINABLE = ("letter", "letter", True), ("letter", "letter", False)
DMM_101 = "DMM 101, updated 2023-07-09: "
# sides in inches, ounces, traits, (shape, pays as, machinable), source
EXAMPLES = [
    (("8", "5", "0.009"), "1", {}, LETTER, "DMM 601.1.1, copy updated 2014-05-05"),
    (("8", "5", "0.009"), "1", {"address_parallel_short": True}, NONMACHINABLE, "DMM 601.1.1; DMM 101.1.2g"),
    (("8", "5", "0.007"), "1", {}, NONMACHINABLE, DMM_101 + "1.1a, 1.2f"),
    (("5.5", "5.5", "0.02"), "0.8", {}, NONMACHINABLE, DMM_101 + "1.2a"),
    (("9.5", "4.125", "0.02"), "1", {}, LETTER, DMM_101 + "1.2a"),
    (("9", "3.5", "0.02"), "1", {}, NONMACHINABLE, DMM_101 + "1.2a"),
    (("9.5", "4.125", "0.05"), "3.6", {}, ("letter", "flat", None), DMM_101 + "1.1c"),
    (("9.5", "4.125", "0.05"), "3.5", {}, LETTER, DMM_101 + "1.1c"),
    (("12", "9", "0.5"), "4", {"stiff": True}, ("flat", "parcel", None), DMM_101 + "2.3, 2.5, 6.4b"),
    (("12", "9", "0.5"), "4", {"uneven": True}, ("flat", "parcel", None), DMM_101 + "2.4, 2.5"),
    (("12", "9", "0.5"), "4", {}, ("flat", "flat", None), DMM_101 + "2.1"),
    (("12", "9", "0.5"), "13.1", {}, ("flat", "parcel", None), DMM_101 + "6.1.1"),
    (("9", "6", "0.25"), "2", {"stiff": True}, NONMACHINABLE, DMM_101 + "1.2e"),
    (("9", "6", "0.25"), "2", {"paper": False}, NONMACHINABLE, DMM_101 + "1.2b"),
    (("12", "9", "4"), "20", {}, ("parcel", "parcel", None), DMM_101 + "3.2"),
]


@pytest.mark.parametrize(("sides", "ounces", "traits", "verdict", "source"), EXAMPLES)
def test_shapes_and_price_classes_equal_the_published_ones(sides, ounces, traits, verdict, source):
    found = classify(Size.of(*sides, "in"), Weight.of(ounces, "oz"), Traits(**traits))
    assert (found.shape, found.pays_as, found.machinable) == verdict, source


@pytest.mark.parametrize(
    ("sides", "postcard"),
    [(("6", "4.25", "0.016"), True), (("6.1", "4.25", "0.016"), False), (("5", "3.5", "0.007"), True)],
)
def test_postcards_have_the_published_limits(sides, postcard):
    """DMM 101.6.2.1 and 6.2.2, updated 2023-07-09; limits are inclusive."""
    assert form_of(Size.of(*sides, "in"), Traits(card=True)).card is postcard


def test_the_girth_of_a_triangular_tube_equals_the_published_example():
    """Quick Service Guide 201e, archived 2016-06-06: 20 in long, sides of 6 in, girth 18, together 38."""
    girth = girth_around([inches(6)] * 3)
    assert (girth, inches(20) + girth) == (inches(18), inches(38))


@pytest.mark.parametrize(
    ("sides", "mailable"),
    [
        (("5", "3.5", "0.25"), True),
        (("4.9", "3.5", "0.25"), False),
        (("5", "3.4", "0.1"), False),
        (("4", "3", "0.3"), True),
        (("9", "5", "0.006"), False),
    ],
)
def test_the_smallest_mailable_piece_has_the_published_size(sides, mailable):
    """DMM 601.1.2, copy updated 2014-05-05; DMM 101.3.2."""
    assert (classify(Size.of(*sides, "in"), Weight.of(1, "oz")).pays_as != "none") is mailable
