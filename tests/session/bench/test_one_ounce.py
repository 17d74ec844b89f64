"""Over or under one ounce of a stamped letter: under, over by how much, or too close; and what that costs."""

from __future__ import annotations

from dataclasses import replace
from decimal import Decimal

import pytest

from desk.domain.finding import Code, finding
from desk.domain.shop.shop import LetterPostage
from desk.domain.weight import Weight
from desk.session.bench.one_ounce import OunceGlance, ounce_glance
from desk.session.verdict.verdict import Verdict
from tests.session import made
from tests.session.conftest import Judge


def asked(verdict: Verdict) -> tuple[str, str, str]:
    found = ounce_glance(verdict)
    assert found is not None
    return found.words, found.mark, found.costs


@pytest.mark.parametrize(
    ("value", "expected"),
    [
        ("0.7", ("0.3 oz under 1 oz", "fine", "")),
        ("0.8", ("0.2 oz under 1 oz", "fine", "")),
        ("1.0", ("Too close to 1 oz", "stop", "Weigh it on a finer scale")),
        ("1.5", ("0.5 oz over 1 oz", "look", "$0.29 more than 1 oz")),
        ("2.6", ("1.6 oz over 1 oz", "look", "$0.58 more than 1 oz")),
    ],
)
def test_the_ruler_says_whether_a_letter_is_under_over_or_too_close(
    judged: Judge, value: str, expected: tuple[str, str, str]
) -> None:
    assert asked(judged(value)) == expected


def test_a_dollar_and_more_is_shown_in_its_currency(judged: Judge) -> None:
    verdict = judged("1.5")
    for extra, words in (("1.00", "$1.00"), ("0.99", "$0.99")):
        reported = finding(Code.OVER_ONE_OUNCE, weight_oz="1.5", over_oz="0.5", extra=extra, currency="USD")
        assert asked(replace(verdict, findings=(reported,)))[2] == f"{words} more than 1 oz"


def test_the_higher_price_of_a_careful_shop_is_reported(judged: Judge) -> None:
    near = judged("0.9", shop=made.shop(policy=made.policy(cautious=True)))
    assert "near-a-step" in [found.code for found in near.findings]
    assert ounce_glance(near) == OunceGlance("Close to 1 oz", "look", "Charged at the higher price")


def test_only_stamped_letters_show_the_one_ounce_answer(judged: Judge) -> None:
    metered = made.shop(policy=made.policy(letter_postage=LetterPostage.METERED))
    for verdict in (judged(None), judged("3.6"), judged("12", "Padded"), judged("0.7", shop=metered)):
        assert ounce_glance(verdict) is None


@pytest.mark.parametrize(
    ("grams", "words"),
    [
        ("28.349523125", "Exactly 1 oz"),
        ("28.3495231251", "Close to 1 oz"),
        ("28.06602789375", "0.01 oz under 1 oz"),
    ],
)
def test_exactly_one_ounce_is_under(judged: Judge, grams: str, words: str) -> None:
    verdict = judged("0.7")
    assert verdict.offer is not None
    offer = replace(verdict.offer, weight=Weight(Decimal(grams)))
    assert asked(replace(verdict, offer=offer, findings=()))[0] == words
