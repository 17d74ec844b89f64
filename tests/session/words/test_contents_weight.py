"""What a weight that does not fit its contents says: how far off, in the scale's unit, and what probably happened."""

from __future__ import annotations

from decimal import Decimal

import pytest

from desk.domain.finding import Code, finding
from desk.domain.weight import Weight, WeightUnit
from desk.session.words.contents_weight import grams_in_unit, learned_words
from desk.session.words.sentences import sentence


@pytest.mark.parametrize(
    ("grams", "unit", "words"),
    [("17.0", "oz", "0.6 oz"), ("17.0", "lb-oz", "0.6 oz"), ("119.5", "g", "120 g"), ("119.4", "kg", "119 g")],
)
def test_grams_are_shown_in_the_unit_of_the_scale(grams, unit, words):
    assert grams_in_unit(grams, unit) == words


@pytest.mark.parametrize(
    ("grams", "reach", "unit", "words"),
    [
        ("13.9", "0.4", "oz", "0.49 oz, give or take 0.01 oz"),
        ("13.9", "0.1", "oz", "0.49 oz, give or take 0.01 oz"),  # never 0.00
        ("13.9", "2.84", "oz", "0.5 oz, give or take 0.1 oz"),
        ("13.94", "0.4", "g", "13.9 g, give or take 0.4 g"),
        ("13.9", "1", "g", "14 g, give or take 1 g"),
        ("13.9", "8.6", "lb-oz", "0.5 oz, give or take 0.3 oz"),
    ],
)
def test_a_learned_weight_is_shown_as_precisely_as_it_is_known(grams, reach, unit, words):
    learned, margin = (Weight(Decimal(text)) for text in (grams, reach))
    assert learned_words(learned, margin, WeightUnit(unit)) == words


def light(**facts):
    return sentence(
        finding(
            Code.LIGHTER_THAN_CONTENTS, "", None, expected_g="119", shown_g="102", missing_g="17", unit="oz", **facts
        )
    )


def heavy(**facts):
    return sentence(
        finding(
            Code.HEAVIER_THAN_CONTENTS, "", None, expected_g="145", shown_g="170", excess_g="25", unit="oz", **facts
        )
    )


@pytest.mark.parametrize(
    ("facts", "ends"),
    [
        ({"cause": "missing", "items": ("Bookmark",)}, "Bookmark weighs about that."),
        ({"cause": "missing", "items": ("Pin", "Zine", "Card")}, "Pin, Zine, or Card weighs about that."),
        ({"cause": "junk", "items": ()}, "Something may be missing."),
        ({"cause": "mailer"}, "It may be in another mailer than the one recorded."),
        ({"cause": "typo"}, "A digit may be mistyped."),
        ({}, "Something may be missing."),
    ],
)
def test_a_light_piece_names_what_may_be_missing(facts, ends):
    assert light(**facts) == f"0.6 oz lighter than expected (4.2 oz). {ends}"


@pytest.mark.parametrize(
    ("facts", "ends"),
    [
        ({"cause": "reuse", "items": ()}, "Extra packaging, or one more item."),
        ({"cause": "extra", "items": ("Pin", "Zine")}, "Extra packaging, or one more item (Pin, Zine)."),
        ({"cause": "two"}, "Both packages may have been on the scale."),
    ],
)
def test_a_heavy_piece_suggests_extra_packaging_or_one_more_item(facts, ends):
    assert heavy(**facts) == f"0.9 oz heavier than expected (5.1 oz). {ends}"


@pytest.mark.parametrize(
    ("cause", "ends"),
    [("swap", "The two packages may be swapped."), ("repeat", "It is the weight of the package before.")],
)
def test_a_swap_is_described_by_the_neighboring_piece(cause, ends):
    assert sentence(finding(Code.SWAPPED_WITH, "", None, other="1041-1", cause=cause)).endswith(ends)
