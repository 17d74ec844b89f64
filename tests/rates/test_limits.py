"""Whether a service takes a piece, by shape, size, goods and value, and the weights between which it does."""

from __future__ import annotations

from dataclasses import replace
from decimal import Decimal

import pytest

from desk.domain.finding import Severity
from desk.domain.length import Size
from desk.domain.money import Money
from desk.domain.shop.mailer import MailerKind
from desk.domain.shop.shop import ExchangeRate
from desk.domain.weight import Weight
from desk.rates.limits import Span, over_weight, refusal, value_unclear, weight_span
from desk.rates.shape import UNMEASURED, form_of
from tests.rates import tiny
from tests.rates.tiny import BOX, CARD, ENVELOPE, FLAT, GROUND, INTL_LETTER, INTL_PACKAGE, LARGE_ENVELOPE, LETTER, piece


def refused(chart, size=ENVELOPE, rules=None, **fields):
    """Return the code of the refusal and its limit, or None."""
    posting = piece("1", size, **fields)
    form = form_of(size, posting.traits) if size else UNMEASURED
    found = refusal(chart, posting, form, rules or tiny.rules())
    return (found.code, found.facts.get("limit")) if found else None


def inch(length: str, height: str, thickness: str) -> Size:
    return Size.of(length, height, thickness, "in")


@pytest.mark.parametrize(
    ("chart", "size", "fits"),
    [
        (LETTER, ENVELOPE, True),
        (LETTER, LARGE_ENVELOPE, False),
        (FLAT, LARGE_ENVELOPE, True),
        (FLAT, ENVELOPE, True),  # over 3.5 oz, the limit of the span
        (FLAT, BOX, False),
        (CARD, inch("6", "4", "0.01"), False),  # an envelope, not a card
        (GROUND, ENVELOPE, True),
        (GROUND, BOX, True),
        (tiny.MEDIA, ENVELOPE, False),
        (tiny.MEDIA, LARGE_ENVELOPE, True),
    ],
)
def test_the_shape_is_checked_first(chart, size, fits):
    assert refused(chart, size) == (None if fits else ("not-its-shape", None))


def test_a_card_mailer_can_go_as_a_postcard():
    assert refused(CARD, inch("6", "4", "0.01"), mailer_kind=MailerKind.CARD) is None


def test_stiff_flats_and_small_pieces_are_refused():
    assert refused(FLAT, LARGE_ENVELOPE, stiff=True) == ("not-its-shape", None)
    assert refused(GROUND, inch("4", "3", "0.1")) == ("under-size", None)


def test_without_a_size_only_parcels_remain():
    assert refused(LETTER, None) == ("size-not-known", None)
    assert refused(GROUND, None) is None
    assert refused(INTL_PACKAGE, None, country="DE") is None


@pytest.mark.parametrize(
    ("sides", "chart", "expected"),
    [
        (("40", "20", "14"), tiny.PRIORITY, None),  # 108
        (("40", "20", "14.1"), tiny.PRIORITY, ("over-size", "108")),
        (("40", "20", "14.1"), GROUND, None),
        (("50", "20", "20.1"), GROUND, ("over-size", "130")),
        (("40", "20", "14.1"), tiny.chart("ground-retail", {"16": "1.00"}), ("list-ends", None)),
        (("50", "40", "30"), tiny.FLAT_RATE, None),  # its own packaging
    ],
)
def test_length_plus_girth_is_limited(sides, chart, expected):
    assert refused(chart, inch(*sides), mailer_kind=MailerKind.BOX) == expected


@pytest.mark.parametrize(
    ("sides", "kind", "expected"),
    [
        (("24", "8", "4"), MailerKind.BOX, None),
        (("24.1", "7", "4"), MailerKind.BOX, ("over-size", "24")),
        (("24", "8", "4.1"), MailerKind.BOX, ("over-size", "36")),
        (("6", "4", "2"), MailerKind.BOX, None),
        (("5.9", "4", "2"), MailerKind.BOX, ("under-size", "6 x 4")),
        (("6", "3.9", "2"), MailerKind.BOX, ("under-size", "6 x 4")),
        (("36", "3", "3"), MailerKind.TUBE, None),
        (("36.1", "2", "2"), MailerKind.TUBE, ("over-size", "36")),
        (("36", "3.1", "3.1"), MailerKind.TUBE, ("over-size", "42")),
        (("3.9", "2", "2"), MailerKind.TUBE, ("under-size", "4")),
        (("4", "1.375", "1.375"), MailerKind.TUBE, None),
        (("4", "1.37", "1.37"), MailerKind.TUBE, ("under-size", "6.75")),
    ],
)
def test_packages_abroad_have_limits_of_size(sides, kind, expected):
    assert refused(INTL_PACKAGE, inch(*sides), mailer_kind=kind, country="DE") == expected


@pytest.mark.parametrize(
    ("value", "currency", "expected"),
    [
        ("400.00", "USD", None),
        ("400.01", "USD", ("over-value", "400.00")),
        ("900.00", "EUR", None),
    ],
)
def test_the_value_of_a_package_abroad_is_limited(value, currency, expected):
    assert refused(INTL_PACKAGE, BOX, country="DE", value=Money.of(value, currency)) == expected


EURO = (ExchangeRate("EUR", "USD", Decimal("1.25"), tiny.ON),)


@pytest.mark.parametrize(("euros", "expected"), [("320.00", None), ("320.01", ("over-value", "400.00"))])
def test_a_value_in_another_currency_is_converted_by_the_shops_rate(euros, expected):
    """At 1.25 dollars a euro, 320.00 EUR is just the limit of 400 USD."""
    day = replace(tiny.rules(), rates=EURO)
    goods = Money.of(euros, "EUR")
    assert refused(INTL_PACKAGE, BOX, rules=day, country="DE", value=goods) == expected
    assert value_unclear(INTL_PACKAGE, piece("1", value=goods), day) is None


def test_a_value_without_a_rate_to_the_limit_stops():
    found = value_unclear(INTL_PACKAGE, piece("1", value=Money.of("5.00", "EUR")), tiny.rules())
    assert (found.code, found.severity) == ("value-not-compared", Severity.STOP)
    assert value_unclear(INTL_PACKAGE, piece("1", value=Money.of("0.00", "EUR")), tiny.rules()) is None
    assert value_unclear(INTL_PACKAGE, piece("1"), tiny.rules()) is None
    assert value_unclear(GROUND, piece("1", value=Money.of("9.00", "EUR")), tiny.rules()) is None


def test_goods_do_not_go_abroad_in_letters():
    assert refused(INTL_LETTER, country="DE") == ("documents-only", None)
    assert refused(INTL_LETTER, country="DE", documents_only=True) is None


@pytest.mark.parametrize(
    ("chart", "size", "above", "most"),
    [
        (LETTER, ENVELOPE, None, "3.5"),
        (FLAT, ENVELOPE, "3.5", "13"),
        (FLAT, LARGE_ENVELOPE, None, "13"),
        (CARD, inch("6", "4", "0.01"), None, "3.5"),
        (GROUND, BOX, None, "1120"),
        (tiny.INTL_FLAT, LARGE_ENVELOPE, None, "15.994"),
    ],
)
def test_a_service_takes_weights_up_to_its_limit(chart, size, above, most):
    span = weight_span(chart, form_of(size), None)
    assert span.above == (Weight.of(above, "oz") if above else None)
    assert span.most == Weight.of(most, "oz")


def test_a_country_may_lower_the_limit():
    span = weight_span(tiny.INTL_BOX, form_of(BOX), Weight.of(2, "lb"))
    assert span.most == Weight.of(2, "lb")
    assert dict(over_weight(span).facts) == {"limit": "2", "unit": "lb"}


@pytest.mark.parametrize(
    ("size", "code"),
    [
        (inch("30", "25", "25"), None),  # 30 + 2 x 50 = 130 in, the limit itself (DMM 101.3.2)
        (inch("30.1", "25", "25"), "over-size"),
    ],
)
def test_the_longest_parcel_is_130_inches(size, code):
    found = refused(GROUND, size)
    assert (found and found[0]) == code


@pytest.mark.parametrize(
    ("most", "limit", "unit"), [("3.5", "3.5", "oz"), ("15.994", "15.994", "oz"), ("16", "1", "lb"), ("17", "17", "oz")]
)
def test_a_limit_of_whole_pounds_is_given_in_pounds(most, limit, unit):
    facts = over_weight(Span(None, Weight.of(most, "oz"), "the list")).facts
    assert (facts["limit"], facts["unit"]) == (limit, unit)


@pytest.mark.parametrize(("height", "code"), [("4", None), ("3.9", "under-size")])
def test_the_address_side_of_a_small_package_is_at_least_six_by_four_inches(height, code):
    found = refused(INTL_PACKAGE, inch("6", height, "0.5"), country="FR")
    assert (found and found[0]) == code


@pytest.mark.parametrize(
    ("service", "most", "ounces"),
    [(FLAT, None, "13"), (FLAT, "6", "6"), (LETTER, None, "3.5"), (LETTER, "2", "2"), (LETTER, "5", "3.5")],
)
def test_a_list_may_end_below_the_limit_of_its_shape_but_never_above(service, most, ounces):
    limited = replace(service, max_weight=Weight.of(most, "oz") if most else None)
    assert weight_span(limited, form_of(ENVELOPE), None).most == Weight.of(ounces, "oz")


def test_a_tube_the_size_of_a_letter_is_no_letter():
    assert refused(LETTER) is None
    assert refused(LETTER, mailer_kind=MailerKind.TUBE) == ("not-its-shape", None)
    assert refused(FLAT, stiff=True) == ("not-its-shape", None)  # a stiff letter is never a large envelope
    assert refused(FLAT, LARGE_ENVELOPE) is None
