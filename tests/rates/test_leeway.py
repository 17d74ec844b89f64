"""The uncertainty of the scale counts only where price, service or form would differ."""

from __future__ import annotations

from dataclasses import replace
from decimal import Decimal

import pytest

from desk.domain.finding import Severity
from desk.domain.money import Money
from desk.domain.weight import Weight
from desk.rates.posting import shown
from desk.rates.quote import quote
from tests.rates.tiny import ABROAD, BOX, LARGE_ENVELOPE, LETTER, chart, codes, piece, rules

DOUBTS = {"too-close-to-call", "near-a-step"}


def doubts(answer):
    return [each for each in answer.findings if each.code in DOUBTS]


@pytest.mark.parametrize(
    ("reading", "code", "price"),
    [
        ("0.8", None, "0.80"),
        ("0.9", "near-a-step", "0.80"),
        ("1.0", "too-close-to-call", "1.10"),
        ("1.1", "near-a-step", "1.10"),
        ("1.2", None, "1.10"),
        ("3.5", "too-close-to-call", "2.50"),  # 3.5 oz letter or 4 oz flat
        ("3.6", "near-a-step", "2.50"),
    ],
)
def test_a_letter_near_a_limit_pays_the_higher_price(reading, code, price):
    answer = quote(piece(reading, division="0.1"), rules())
    assert codes(doubts(answer)) == ([code] if code else [])
    assert answer.chosen.price == Money.of(price)


def test_the_billed_weight_belongs_to_the_higher_price():
    answer = quote(piece("1.0", division="0.1"), rules())
    assert (answer.chosen.billable.figure, answer.weight) == (2, Weight.of("1.05", "oz"))
    assert answer.shape.pays_as == "letter"


def test_a_reading_too_close_to_call_names_both_prices():
    (reported,) = doubts(quote(piece("3.5", division="0.1"), rules()))
    assert dict(reported.facts) == {
        "limit": "3.5",
        "limit_unit": "oz",
        "lower": "1.70",
        "higher": "2.50",
        "currency": "USD",
        "lower_service": "letter-stamped",
        "higher_service": "flat",
        "form": False,
        "shown": "3.5",
        "unit": "oz",
        "division": "0.1",
    }


@pytest.mark.parametrize(("reading", "price"), [("0.9", "1.10"), ("1.1", "1.10"), ("0.8", "0.80")])
def test_a_cautious_shop_pays_the_higher_price_even_for_tolerance_alone(reading, price):
    answer = quote(piece(reading, division="0.1"), rules(cautious=True))
    assert answer.chosen.price == Money.of(price)


def test_a_fresh_check_of_the_scale_lowers_the_tolerance():
    day = replace(rules(), tolerance_scale=Decimal("0.5"))
    assert [codes(doubts(quote(piece(each, division="0.1"), day))) for each in ("0.9", "1.0")] == [
        [],
        ["too-close-to-call"],
    ]


@pytest.mark.parametrize(
    ("reading", "open_"),
    [
        ("4.0", False),  # 4 and 8 oz cost the same
        ("5.0", False),  # no row ends at this ounce
        ("8.0", True),
        ("16.0", True),  # 1 lb or 2 lb
        ("15.8", False),  # 15.999 and 16 oz cost the same, and more than 16 is outside the interval
    ],
)
def test_rows_of_one_price_give_no_doubt(reading, open_):
    answer = quote(piece(reading, BOX, division="0.1"), rules())
    assert bool(doubts(answer)) is open_


def test_a_dimensional_weight_removes_the_doubt_of_the_scale():
    big = replace(piece("32.0", division="0.1"), size=BOX.of("18", "14", "8", "in"), mailer_kind=None)
    assert doubts(quote(big, rules())) == []


def test_the_doubt_of_a_reading_in_grams_is_in_grams():
    """28 g may be 0.970 to 1.005 oz; 29 g is surely over one ounce."""
    answers = [quote(replace(piece("1"), gross=shown(grams, "g", "1")), rules()) for grams in ("27", "28", "29")]
    assert [answer.chosen.price.text() for answer in answers] == ["0.80", "1.10", "1.10"]
    assert [codes(doubts(answer)) for answer in answers] == [["near-a-step"], ["too-close-to-call"], ["near-a-step"]]


def test_a_label_moves_the_reading_toward_the_limit():
    posting = replace(piece("0.9", division="0.1"), label_weight=Weight.of("0.1", "oz"))
    assert codes(doubts(quote(posting, rules()))) == ["too-close-to-call"]


def test_doubt_is_reported_where_no_service_takes_the_higher_weight():
    answer = quote(piece("64.0", BOX, division="0.1", country="DE"), rules())
    (reported,) = doubts(answer)
    assert (reported.code, reported.facts["lower"], reported.facts["higher"]) == ("too-close-to-call", "60.00", "")
    assert answer.chosen.price == Money.of("60.00")  # a weight without a price is not a higher price


def test_another_service_of_the_same_price_gives_doubt():
    twin = chart("ground-retail", {"16": "1.70", "32": "9.00"}, key="5", keyed_by="zone")
    letter = chart("letter-stamped", {"3.5": "1.70"}, shapes=frozenset({"letter"}))
    answer = quote(piece("3.5", division="0.1"), rules(letter, twin))
    (reported,) = doubts(answer)
    assert (reported.facts["lower_service"], answer.chosen.service) == ("letter-stamped", "ground-retail")


def test_documents_abroad_at_sixteen_ounces_may_need_a_form():
    """IMM 123.631: any item of 16 oz or more needs one; here the price is the same on both sides."""
    flat = chart(
        "intl-package",
        {"64": "20.00"},
        key="1",
        keyed_by="group",
        groups={"DE": "1"},
    )
    posting = piece("16.0", LARGE_ENVELOPE, division="0.1", country="DE", documents_only=True)
    (reported,) = doubts(quote(posting, rules(flat)))
    assert (reported.code, reported.facts["form"], reported.facts["limit"]) == ("too-close-to-call", True, "16")
    assert doubts(quote(replace(posting, documents_only=False), rules(flat))) == []


def test_without_any_service_there_is_no_doubt():
    posting = piece("16.0", LARGE_ENVELOPE, division="0.1", country="SO", documents_only=True)
    assert codes(quote(posting, rules()).findings) == ["no-service"]


def test_limits_of_a_list_in_grams_are_reported_in_grams():
    letter = chart("letter-stamped", {"50": "1.00", "100": "2.00"}, unit="g", shapes=frozenset({"letter"}))
    posting = replace(piece("1"), gross=shown("50", "g", "1"))
    (reported,) = doubts(quote(posting, rules(letter)))
    assert (reported.facts["limit"], reported.facts["limit_unit"]) == ("50", "g")


def test_pounds_and_ounces_are_reported_in_ounces():
    posting = replace(piece("1", BOX), gross=shown("16.0", "lb-oz", "0.1"))
    (reported,) = doubts(quote(posting, rules()))
    assert (reported.facts["shown"], reported.facts["unit"]) == ("16.0", "oz")


@pytest.mark.parametrize(
    ("least", "severity"), [(None, Severity.NOTE), (Money(30), Severity.LOOK), (Money(31), Severity.NOTE)]
)
def test_a_close_call_is_raised_from_the_price_difference_the_shop_sets(least, severity):
    """One or two ounces: 0.80 or 1.10 here, so 30 cents; the usual difference is 50 cents."""
    answer = quote(piece("1.0", division="0.1"), rules(close_call_from=least))
    (found,) = [each for each in answer.findings if each.code == "too-close-to-call"]
    assert found.severity is severity
    assert answer.chosen.price == Money(110)


def close_call(posting, *charts):
    (found,) = [each for each in quote(posting, rules(*charts)).findings if each.code == "too-close-to-call"]
    return found.severity, found.facts["form"]


@pytest.mark.parametrize(("second", "severity"), [("1.29", Severity.NOTE), ("1.30", Severity.LOOK)])
def test_a_difference_of_fifty_cents_is_worth_a_check(second, severity):
    letter = chart("letter-stamped", {"1": "0.80", "2": second}, shapes=frozenset({"letter"}))
    assert close_call(piece("1.0", division="0.1"), letter)[0] is severity


def test_a_piece_that_may_have_no_service_needs_a_check():
    """Up to 3.5 oz it is a letter at 1.70; above, no service of this shop takes it."""
    assert close_call(piece("3.5", division="0.1"), LETTER)[0] is Severity.LOOK


@pytest.mark.parametrize(
    ("ounces", "prices", "expected"),
    [
        ("16.0", {"64": "35.00"}, (Severity.LOOK, True)),  # a form from 16 oz: the price is the same
        ("32.0", {"32": "35.00", "64": "35.20"}, (Severity.NOTE, False)),  # a form either way
    ],
)
def test_documents_that_may_need_a_form_need_a_check(ounces, prices, expected):
    package = chart("intl-package", prices, **ABROAD)
    assert close_call(piece(ounces, BOX, division="0.1", country="DE", documents_only=True), package) == expected
