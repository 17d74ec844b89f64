"""Cubic price: how a parcel is measured for it, its limits, and the price step."""

import pytest

from desk.domain.length import Size
from desk.domain.shop.mailer import MailerKind
from desk.domain.shop.shop import Policy
from desk.rates.cubic import cubic_refusal, measured_cubic_feet
from desk.rates.quote import Offer, PriceRules, price_of, quote
from tests.rates.chart_folder import shipped, shipped_zones
from tests.rates.tiny import ON, piece

CUBIC = "ground-cubic-commercial"
RULES = PriceRules(shipped(), shipped_zones(), Policy(parcel_services=("ground-commercial", CUBIC)), ON)


def inch(*sides):
    return Size.of(*sides, "in")


def test_sides_are_rounded_down_to_a_quarter_inch():
    """6-1/8 x 5-7/8 x 6-3/8 in is measured as 6 x 5-3/4 x 6-1/4 in: the example of DMM 283.1.3."""
    assert measured_cubic_feet(inch("6.125", "5.875", "6.375")) == measured_cubic_feet(inch("6", "5.75", "6.25"))
    assert round(measured_cubic_feet(inch("6", "5.75", "6.25")), 3) == pytest.approx(0.125, abs=0.0005)


@pytest.mark.parametrize(
    ("sides", "tier"),
    [
        (("6.125", "5.875", "6.375"), "0.20 cu ft"),  # the example of DMM 283.1.3
        (("12", "12", "1.2"), "0.10 cu ft"),  # 1.2 in counts as 1 in
        (("12", "12", "1.25"), "0.20 cu ft"),  # 0.104 cubic feet
        (("12", "12", "12"), "1.00 cu ft"),
        (("12.2", "12.2", "12.2"), "1.00 cu ft"),
    ],
)
def test_the_next_volume_tier_is_paid_whatever_the_weight(sides, tier):
    """DMM 283.1.3.2 and 283.1.3.3; prices of Notice 123, July 12, 2026, p. 16, zone 5."""
    prices = {"0.10 cu ft": "8.49", "0.20 cu ft": "9.37", "1.00 cu ft": "16.93"}
    for ounces in ("3", "320"):
        offer = price_of(piece(ounces, inch(*sides), mailer_kind=MailerKind.BOX), CUBIC, "5", RULES)
        assert isinstance(offer, Offer)
        assert offer.row_label == tier
        assert offer.price.text() == prices[tier]


@pytest.mark.parametrize(
    ("sides", "kind", "code"),
    [
        (("22", "8", "8"), MailerKind.BOX, None),
        (("22.1", "6", "6"), MailerKind.BOX, "over-size"),
        (("12.25", "12", "12"), MailerKind.BOX, "over-cubic-foot"),
        (("18", "3", "3"), MailerKind.TUBE, "no-rolls"),
    ],
)
def test_large_or_rolled_parcels_have_no_cubic_price(sides, kind, code):
    """DMM 283.1.3.1: 1 cubic foot, 22 in, no rolls or tubes."""
    found = cubic_refusal(piece("20", inch(*sides), mailer_kind=kind))
    assert (found.code if found else None) == code


def test_over_20_pounds_or_without_a_size_there_is_no_cubic_price():
    heavy = price_of(piece("320.1", inch("8", "8", "8"), mailer_kind=MailerKind.BOX), CUBIC, "5", RULES)
    assert not isinstance(heavy, Offer)
    assert heavy.reason.code == "over-weight"
    unmeasured = price_of(piece("20", None), CUBIC, "5", RULES)
    assert not isinstance(unmeasured, Offer)
    assert unmeasured.reason.code == "size-not-known"


def test_a_small_heavy_parcel_is_priced_by_its_volume():
    found = quote(piece("160", inch("6", "6", "4"), mailer_kind=MailerKind.BOX), RULES)
    assert found.chosen is not None
    assert found.chosen.service == CUBIC
    assert [each.service for each in found.offers] == [CUBIC, "ground-commercial"]
