"""One service for one piece at a weight."""

from __future__ import annotations

import pytest

from desk.domain.finding import Code, Finding, reason
from desk.domain.length import Size
from desk.domain.money import Money
from desk.domain.shop.mailer import MailerKind
from desk.domain.weight import Weight
from desk.rates.offer import candidate
from desk.rates.shape import UNMEASURED, form_of
from tests.rates import tiny
from tests.rates.tiny import BOX, ENVELOPE, LARGE_ENVELOPE, piece, rules


def ounces(number: str) -> Weight:
    return Weight.of(number, "oz")


def made(service: str, size=BOX, key: str | Finding = "5", **fields):
    posting = piece("1", size, **fields)
    form = form_of(size, posting.traits) if size else UNMEASURED
    return candidate(0, service, key, posting, form, rules())


def test_a_service_refused_for_shape_is_not_a_candidate():
    assert made("letter-stamped", LARGE_ENVELOPE, "").code == "not-its-shape"


def test_a_service_refused_for_size_is_kept_with_its_reason():
    each = made("priority-retail", Size.of("40", "20", "15", "in"))
    assert each.refused.code == "over-size"
    assert each.offer_at(ounces("5")) is each.refused


def test_a_service_without_a_list_or_a_key_is_no_candidate():
    assert made("priority-commercial").code == "no-price-list"
    why = reason(Code.ZONE_UNKNOWN, origin="", destination="")
    assert made("ground-retail", key=why) is why


@pytest.mark.parametrize(
    ("weight", "price"),
    [("4", "7.00"), ("15.999", "8.00"), ("15.9995", "8.00"), ("16.001", "11.00")],
)
def test_the_price_is_in_the_row_of_the_weight(weight, price):
    offer = made("ground-retail").offer_at(ounces(weight))
    assert (offer.price, offer.base, offer.surcharges) == (Money.of(price), Money.of(price), ())


def test_surcharges_are_added():
    offer = made("letter-stamped", ENVELOPE, "", stiff=True).offer_at(ounces("1"))
    assert (offer.base, offer.price) == (Money.of("0.80"), Money.of("1.30"))


def test_dimensional_weight_finds_the_row():
    offer = made("ground-retail", Size.of("18", "14", "8", "in")).offer_at(ounces("40"))
    assert (offer.row.max_label, offer.billable.figure, offer.billable.unit) == ("320", 15, "lb")


def test_over_108_inches_pays_the_oversized_price_whatever_the_weight():
    offer = made("ground-retail", Size.of("40", "20", "15", "in"), mailer_kind=MailerKind.BOX).offer_at(ounces("16"))
    assert (offer.base, offer.row) == (Money.of("150.00"), None)
    assert offer.price == Money.of("150.00")  # and no fees for long and bulky pieces on top


@pytest.mark.parametrize(
    ("service", "size", "weight", "code"),
    [
        ("ground-retail", BOX, "321", "list-ends"),
        ("ground-retail", BOX, "1121", "over-weight"),
        ("letter-stamped", ENVELOPE, "3.51", "over-weight"),
        ("flat", ENVELOPE, "3.5", "not-its-shape"),
    ],
)
def test_reasons_without_an_offer(service, size, weight, code):
    each = made(service, size, "5" if service == "ground-retail" else "")
    assert each.offer_at(ounces(weight)).code == code


def test_limits_are_the_ends_of_the_rows_and_the_largest_weight():
    assert sorted(made("ground-retail").limits()) == [
        ounces(limit).grams for limit in ("4", "8", "15.999", "16", "32", "320", "1120")
    ]


def test_a_letter_limit_is_a_limit_of_the_flat_price_too():
    assert ounces("3.5").grams in made("flat", ENVELOPE, "").limits()


def test_goods_that_may_not_fly_are_refused():
    from desk.domain.shop.product import Restriction

    assert made("priority-retail", restricted=frozenset({Restriction.AEROSOL})).code == "restricted-by-air"
    assert made("ground-retail", restricted=frozenset({Restriction.AEROSOL})).refused is None


def test_a_destination_has_its_own_limit():
    fields = {"country": "DE", "only_service": tiny.INTL_BOX.service, "mailer_kind": MailerKind.BOX}
    each = made(tiny.INTL_BOX.service, BOX, "1", **fields)
    assert each.offer_at(ounces("32")).price == Money.of("45.00")
    assert each.offer_at(ounces("32.1")).code == "over-weight"


@pytest.mark.parametrize(("ounces_shown", "billed"), [("239.9", 15), ("240", 15), ("240.1", 16)])
def test_the_larger_of_weight_and_size_is_billed(ounces_shown, billed):
    """18 x 14 x 8 in: 2016 / 139 = 14.5, so 15 lb, which is 240 oz."""
    offer = made("ground-retail", Size.of("18", "14", "8", "in")).offer_at(ounces(ounces_shown))
    assert (offer.billable.figure, offer.billable.unit) == (billed, "lb")


def test_a_weight_above_its_size_finds_its_own_row():
    each = made("ground-retail", Size.of("18", "14", "8", "in"))
    assert each.offer_at(ounces("320")).row.max_label == "320"
    assert each.offer_at(ounces("320.1")).code == "list-ends"


@pytest.mark.parametrize(("height", "is_oversized"), [("20", False), ("20.1", True)])
def test_length_plus_girth_of_108_inches_still_pays_by_weight(height, is_oversized):
    """48 + 2 x (10 + 20) = 108 in (DMM 101.3.2)."""
    each = made("ground-retail", Size.of("48", "10", height, "in"))
    assert (each.fixed, each.fixed_as) == ((Money.of("150.00"), "oversized") if is_oversized else (None, ""))
