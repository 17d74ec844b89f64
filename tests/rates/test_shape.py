"""Shape rules beyond the published examples: each trait alone, and every limit from both sides."""

from __future__ import annotations

from decimal import Decimal

import pytest

from desk.domain.exact import short
from desk.domain.finding import Severity
from desk.domain.length import Size, inches
from desk.domain.weight import Weight
from desk.rates.shape import Traits, assumed, classify, form_of, girth_around, weighed


def inch(length: str, height: str, thickness: str) -> Size:
    return Size.of(length, height, thickness, "in")


def ounces(number: str) -> Weight:
    return Weight.of(number, "oz")


ONE = ounces("1")


def codes(verdict):
    return [each.code for each in verdict.reasons]


@pytest.mark.parametrize(
    ("sides", "shape"),
    [
        (("11.5", "6.125", "0.25"), "letter"),
        (("11.501", "6.125", "0.25"), "flat"),
        (("11.5", "6.126", "0.25"), "flat"),
        (("11.5", "6.125", "0.251"), "flat"),
        (("15", "12", "0.75"), "flat"),
        (("15.001", "12", "0.75"), "parcel"),
        (("15", "12.001", "0.75"), "parcel"),
        (("15", "12", "0.751"), "parcel"),
        (("5", "3.5", "0.007"), "letter"),
        (("4.999", "3.5", "0.1"), ""),
        (("5", "3.499", "0.1"), ""),
        (("5", "3.5", "0.0069"), ""),
        (("4", "3", "0.26"), "flat"),  # over 1/4 in thick, so the smaller minimum does not apply
        (("12", "9", "0.006"), ""),
    ],
)
def test_shapes_change_exactly_at_every_limit(sides, shape):
    assert classify(inch(*sides), ONE).shape == shape


def test_sides_may_be_typed_in_any_order():
    assert classify(inch("0.05", "4.125", "9.5"), ONE) == classify(inch("9.5", "4.125", "0.05"), ONE)


def test_millimeters_decide_as_inches():
    assert classify(Size.of("292.1", "155.575", "6.35", "mm"), ONE).shape == "letter"
    assert classify(Size.of("292.11", "155.575", "6.35", "mm"), ONE).shape == "flat"


def test_a_piece_too_small_to_mail_is_stopped_and_has_no_price():
    verdict = classify(inch("4", "3", "0.1"), ONE)
    assert (verdict.pays_as, verdict.machinable) == ("none", None)
    assert [(each.code, each.severity) for each in verdict.reasons] == [("too-small", Severity.STOP)]


@pytest.mark.parametrize(
    ("traits", "trait"),
    [
        (Traits(stiff=True), "stiff"),
        (Traits(boxed=True), "stiff"),
        (Traits(uneven=True), "uneven"),
        (Traits(paper=False), "not-paper"),
        (Traits(clasp=True), "clasp"),
        (Traits(address_parallel_short=True), "address"),
        (Traits(stiff=True, clasp=True), "clasp stiff"),
    ],
)
def test_each_trait_makes_a_letter_nonmachinable(traits, trait):
    verdict = classify(inch("9", "5", "0.1"), ONE, traits)
    assert (verdict.shape, verdict.pays_as, verdict.machinable) == ("letter", "letter", False)
    assert [each.facts["trait"] for each in verdict.reasons if each.code == "not-machinable"] == [tuple(trait.split())]


@pytest.mark.parametrize(
    ("sides", "machinable"),
    [
        (("6.5", "5", "0.1"), True),  # 1.3 exactly
        (("6.49", "5", "0.1"), False),
        (("10", "4", "0.1"), True),  # 2.5 exactly
        (("10.01", "4", "0.1"), False),
        (("6.1", "4.25", "0.009"), True),
        (("6.1", "4.25", "0.0089"), False),
        (("6", "4.26", "0.0089"), False),
        (("6", "4.25", "0.0071"), True),
    ],
)
def test_proportions_and_thin_paper_at_their_limits(sides, machinable):
    assert classify(inch(*sides), ONE).machinable is machinable


def test_card_size_never_pays_the_surcharge():
    near_square = inch("5", "4.25", "0.01")
    assert classify(near_square, ONE).machinable is None
    assert "not-machinable" not in codes(classify(near_square, ONE))
    assert classify(inch("5", "4.26", "0.01"), ONE).machinable is False


@pytest.mark.parametrize(
    ("sides", "postcard"),
    [
        (("6", "4.25", "0.016"), True),
        (("5", "3.5", "0.007"), True),
        (("6.01", "4.25", "0.016"), False),
        (("6", "4.26", "0.016"), False),
        (("6", "4.25", "0.0161"), False),
    ],
)
def test_postcards_have_limits_of_size(sides, postcard):
    assert form_of(inch(*sides), Traits(card=True)).card is postcard
    assert form_of(inch(*sides)).card is False


@pytest.mark.parametrize(
    ("weight", "pays_as", "reason"),
    [
        ("3.5", "letter", ""),
        ("3.501", "flat", "letter-over-weight"),
        ("13", "flat", "letter-over-weight"),
        ("13.001", "parcel", "flat-over-weight"),
    ],
)
def test_a_heavy_piece_of_letter_size_pays_as_a_large_envelope_and_then_as_a_parcel(weight, pays_as, reason):
    verdict = classify(inch("9", "5", "0.1"), ounces(weight))
    assert (verdict.shape, verdict.pays_as) == ("letter", pays_as)
    assert verdict.machinable is (True if pays_as == "letter" else None)
    assert not reason or reason in codes(verdict)


@pytest.mark.parametrize("traits", [Traits(stiff=True), Traits(uneven=True), Traits(boxed=True)])
def test_a_rigid_or_lumpy_letter_over_its_weight_pays_as_a_parcel(traits):
    """DMM 101.2.5 and 101.6.4: a piece that is not a flat does not pay the flat price."""
    assert classify(inch("9", "5", "0.1"), ounces("3.5"), traits).pays_as == "letter"
    heavy = classify(inch("9", "5", "0.1"), ounces("3.501"), traits)
    assert heavy.pays_as == "parcel"
    assert "stiff-letter-over-weight" in codes(heavy)


@pytest.mark.parametrize(
    ("traits", "code"),
    [
        (Traits(stiff=True), "stiff-flat"),
        (Traits(uneven=True), "uneven-flat"),
        (Traits(rectangular=False), "not-rectangular"),
        (Traits(boxed=True, stiff=True), "box-pays-parcel"),
        (Traits(tube=True), "tube-pays-parcel"),
    ],
)
def test_flats_that_fail_pay_as_parcels(traits, code):
    verdict = classify(inch("12", "9", "0.5"), ounces("4"), traits)
    assert (verdict.shape, verdict.pays_as) == ("flat", "parcel")
    assert code in codes(verdict)
    assert "stiff-flat" not in codes(verdict) or code == "stiff-flat"


@pytest.mark.parametrize("traits", [Traits(tube=True), Traits(rectangular=False)])
def test_rolls_and_irregular_pieces_of_letter_size_pay_as_parcels(traits):
    verdict = classify(inch("9", "5", "0.2"), ONE, traits)
    assert (verdict.shape, verdict.pays_as, verdict.machinable) == ("letter", "parcel", None)


def test_a_piece_is_too_thick_for_a_letter_only_if_the_other_sides_fit():
    assert "too-thick-for-letter" in codes(classify(inch("9", "6", "0.3"), ONE))
    assert "too-thick-for-letter" in codes(classify(inch("11.5", "6.125", "0.3"), ONE))
    assert "too-thick-for-letter" not in codes(classify(inch("11.6", "6.125", "0.3"), ONE))
    assert "too-thick-for-letter" not in codes(classify(inch("11.5", "6.126", "0.3"), ONE))
    assert "too-thick-for-letter" not in codes(classify(inch("12", "6", "0.3"), ONE))
    assert "too-thick-for-letter" not in codes(classify(inch("9", "6", "0.3"), ONE, Traits(boxed=True)))
    assert "too-thick-for-letter" not in codes(classify(inch("9", "6", "0.8"), ONE))


@pytest.mark.parametrize(
    ("sides", "weight", "pays_as"),
    [
        (("20", "10", "5"), "1120", "parcel"),
        (("20", "10", "5"), "1120.1", "none"),
        (("50", "20", "20"), "100", "parcel"),  # 130 in
        (("50.1", "20", "20"), "100", "none"),
    ],
)
def test_oversized_pieces_are_accepted_by_no_service(sides, weight, pays_as):
    assert classify(inch(*sides), ounces(weight)).pays_as == pays_as


def test_girth_is_given_for_pieces_priced_as_parcels():
    box = classify(inch("20", "10", "5"), ONE)
    assert (box.girth, box.length_plus_girth) == (inches(30), inches(50))
    assert classify(inch("12", "9", "0.5"), ONE).girth is None
    assert classify(inch("12", "9", "0.5"), ONE, Traits(stiff=True)).girth == inches(19)


def test_one_shape_is_priced_at_several_weights():
    form = form_of(inch("9", "5", "0.1"))
    assert [weighed(form, ounces(weight)).pays_as for weight in ("1", "4", "14")] == ["letter", "flat", "parcel"]


def test_girth_around_adds_the_sides():
    assert girth_around([inches(1), inches(2), inches("0.5")]) == inches("3.5")


@pytest.mark.parametrize(("number", "text"), [("1.0500", "1.05"), ("10", "10"), ("0.12345", "0.123"), ("100", "100")])
def test_numbers_are_written_without_trailing_zeros(number, text):
    assert short(Decimal(number)) == text


@pytest.mark.parametrize(
    ("sides", "weight", "pays_as"),
    [
        (("9.5", "4.125", "0.05"), "3.5", "letter"),
        (("9.5", "4.125", "0.05"), "3.51", "flat"),
        (("12", "9", "0.5"), "1", "flat"),  # however light it is
        (("12", "9", "0.5"), "13", "flat"),
        (("12", "9", "0.5"), "13.01", "parcel"),
        (("9", "6", "1"), "1", "parcel"),
    ],
)
def test_the_price_class_of_a_size_at_a_weight(sides, weight, pays_as):
    """DMM 101.1.1c: letters up to 3.5 oz; DMM 101.6.1.1: large envelopes up to 13 oz."""
    assert classify(inch(*sides), ounces(weight)).pays_as == pays_as


@pytest.mark.parametrize(
    ("sides", "is_too_small"),
    [
        (("4.9", "4", "0.25"), True),
        (("4.9", "4", "0.251"), False),  # over a quarter inch thick, it may be as small as it is
        (("5", "3.5", "0.25"), False),
        (("5", "3.49", "0.25"), True),
        (("5", "3.5", "0.007"), False),
        (("5", "3.5", "0.0069"), True),
    ],
)
def test_the_smallest_mailable_size(sides, is_too_small):
    """DMM 601.1.2: 0.007 in thick; 5 x 3.5 in where it is a quarter inch thick or less."""
    assert ("too-small" in codes(classify(inch(*sides), ONE))) is is_too_small


@pytest.mark.parametrize(
    "traits",
    [
        Traits(stiff=True),
        Traits(uneven=True),
        Traits(clasp=True),
        Traits(address_parallel_short=True),
        Traits(paper=False),
    ],
)
def test_an_unmeasured_letter_is_nonmachinable_by_any_one_trait(traits):
    assert assumed("letter").machinable is True
    assert assumed("letter", traits).machinable is False


@pytest.mark.parametrize(("traits", "pays"), [(Traits(), "flat"), (Traits(boxed=True), "parcel")])
def test_a_heavy_letter_in_a_box_pays_as_a_parcel(traits, pays):
    assert classify(inch("9", "5", "0.2"), ounces("3.6"), traits).pays_as == pays


@pytest.mark.parametrize(
    ("traits", "noted"), [(Traits(), True), (Traits(boxed=True), False), (Traits(tube=True), False)]
)
def test_only_an_envelope_can_be_too_thick_for_a_letter(traits, noted):
    assert ("too-thick-for-letter" in codes(classify(inch("9", "5", "0.5"), ONE, traits))) is noted
