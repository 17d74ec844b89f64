from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from desk.domain.faults import Refused
from desk.domain.weight import OUNCE_G, Shown, WeightUnit
from desk.scales.typed import parse_typed

OZ, LB, G, KG, LB_OZ = WeightUnit.OUNCE, WeightUnit.POUND, WeightUnit.GRAM, WeightUnit.KILOGRAM, WeightUnit.POUND_OUNCE


@pytest.mark.parametrize(
    ("typed", "default", "value", "unit", "division"),
    [
        ("4.2", OZ, "4.2", OZ, "0.1"),
        ("4.2", G, "4.2", G, "0.1"),
        ("4.2 oz", G, "4.2", OZ, "0.1"),
        ("4.25oz", OZ, "4.25", OZ, "0.01"),
        (" 4.2  OZ. ", OZ, "4.2", OZ, "0.1"),
        (".5 lb", OZ, "0.5", LB, "0.1"),
        ("1 lb 3", OZ, "19", LB_OZ, "1"),
        ("1 lb 3.2 oz", OZ, "19.2", LB_OZ, "0.1"),
        ("1lb3.2oz", LB_OZ, "19.2", LB_OZ, "0.1"),
        ("0 lb 3.2", LB_OZ, "3.2", LB_OZ, "0.1"),
        ("2 lbs 15.9 ozs", G, "47.9", LB_OZ, "0.1"),
        ("119 g", OZ, "119", G, "1"),
        ("119gm", OZ, "119", G, "1"),
        ("0.5 kg", OZ, "0.5", KG, "0.1"),
        ("3.2 oz", LB_OZ, "3.2", OZ, "0.1"),
        ("3 1/2", OZ, "3.5", OZ, "0.5"),
        ("3 1/2 oz", G, "3.5", OZ, "0.5"),
        ("3½oz", G, "3.5", OZ, "0.5"),
        ("1/2", OZ, "0.5", OZ, "0.5"),
        ("1 lb 3 1/4", OZ, "19.25", LB_OZ, "0.25"),
        ("1lb3 3/4oz", OZ, "19.75", LB_OZ, "0.25"),
        ("1 15/16 oz", OZ, "1.9375", OZ, "0.0625"),
        ("19.5", OZ, "19.5", OZ, "0.1"),
        ("1lb3oz", OZ, "19", LB_OZ, "1"),
        ("540g", OZ, "540", G, "1"),
    ],
)
def test_weights_are_read_in_every_usual_form(typed, default, value, unit, division):
    assert parse_typed(typed, default) == Shown(Decimal(value), unit, Decimal(division))


@pytest.mark.parametrize(
    ("typed", "default", "division"),
    [("4.2", OZ, "0.2"), ("4.2 oz", OZ, "0.2"), ("1 lb 3.2", OZ, "0.2"), ("4 oz", LB_OZ, "0.2"), ("4.2 g", OZ, "0.1")],
)
def test_the_scales_own_step_counts_for_its_own_unit(typed, default, division):
    assert parse_typed(typed, default, Decimal("0.2")).division == Decimal(division)


@pytest.mark.parametrize(
    ("typed", "default", "why"),
    [
        ("", OZ, "Type it like"),
        ("4,2", OZ, "what the comma means"),
        ("-4.2", OZ, "as a weight"),
        ("0", OZ, "must be over 0"),
        ("0 lb 0", OZ, "must be over 0"),
        ("4.2 gr", OZ, 'unit "gr"'),
        ("4.2 stone", OZ, "unit"),
        ("1 lb 16 oz", OZ, "a pound or more"),
        ("1.5 lb 3 oz", OZ, "as a weight"),
        ("four", OZ, "as a weight"),
        ("3 4/2", OZ, "as a weight"),
        ("3 1/3", OZ, "as a weight"),
        ("3/21", OZ, "as a weight"),
        ("3.5 1/2", OZ, "as a weight"),
        ("1 lb 15 3/2", OZ, "as a weight"),
        ("1e3", OZ, "as a weight"),
        ("12345678", OZ, "as a weight"),
        ("\u0664 oz", OZ, "as a weight"),
        ("nan", OZ, "as a weight"),
    ],
)
def test_a_refusal_names_the_reason(typed, default, why):
    with pytest.raises(Refused, match=why):
        parse_typed(typed, default)


def test_pounds_and_ounces_are_exact():
    assert parse_typed("1 lb 3.2", OZ).weight.grams == Decimal("19.2") * OUNCE_G == Decimal("544.310844")


@given(st.text(max_size=20))
def test_any_typed_text_gives_a_weight_or_a_sentence(typed):
    try:
        got = parse_typed(typed, OZ)
    except Refused as refused:
        sentence = refused.sentence
    else:
        sentence = "Fine." if got.value > 0 and got.division > 0 else ""
    assert sentence.endswith(".")


@given(st.integers(1, 69), st.integers(0, 159))
def test_pounds_and_ounces_are_read_back(pounds, tenths):
    ounces = Decimal(tenths) / 10
    assert parse_typed(f"{pounds} lb {ounces:.1f} oz", G).value == pounds * 16 + ounces


@pytest.mark.parametrize(
    ("text", "unit", "words"),
    [
        ("1lb3oz", OZ, "1 lb 3 oz"),
        ("1 lb 3", OZ, "1 lb 3 oz"),
        ("1 LB 3.2 OZ", G, "1 lb 3.2 oz"),
        ("19.5", OZ, "19.5 oz"),
        ("19.5", LB_OZ, "1 lb 3.5 oz"),
        ("540g", OZ, "540 g"),
        ("540", G, "540 g"),
    ],
)
def test_a_typed_weight_is_echoed_in_the_unit_it_was_typed_in(text, unit, words):
    assert parse_typed(text, unit).words == words
