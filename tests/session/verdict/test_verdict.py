"""What a verdict says of itself: stopped, staying here, abroad; and terms that keep their price rules."""

from collections.abc import Callable
from dataclasses import replace
from datetime import date
from decimal import Decimal

import pytest

from desk.domain.finding import Code, Finding
from desk.domain.status import PieceStatus
from desk.session.rulebook import Rulebook
from desk.session.verdict.verdict import Terms, Verdict
from tests.session import made

Judged = Callable[..., Verdict]


@pytest.mark.parametrize(
    ("codes", "expected"),
    [
        ((), False),
        (("no-weight",), False),
        (("near-a-step", "hs-missing"), False),
        (("near-a-step", "too-small"), True),
    ],
)
def test_only_a_stop_makes_a_piece_stopped(judged: Judged, codes: tuple[str, ...], expected: bool) -> None:
    verdict = replace(judged("0.7"), findings=tuple(Finding(Code(code), Code(code).severity) for code in codes))
    assert (verdict.is_stopped, verdict.stays_here) == (expected, expected)


@pytest.mark.parametrize("beside", [PieceStatus.SET_ASIDE, PieceStatus.CAME_BACK, PieceStatus.LOST])
def test_a_piece_set_aside_stays_without_being_stopped(judged: Judged, beside: PieceStatus) -> None:
    verdict = judged("0.7", beside=beside)
    assert (verdict.is_stopped, verdict.stays_here, verdict.status) == (False, True, beside)


@pytest.mark.parametrize(("country", "expected"), [("US", False), ("", False), ("FR", True), ("CA", True)])
def test_abroad_is_every_country_but_the_united_states(judged: Judged, country: str, expected: bool) -> None:
    assert judged(None, address=replace(made.HOME, country=country)).is_abroad is expected


def test_a_military_address_is_domestic(judged: Judged) -> None:
    address = replace(made.HOME, city="APO", region="AE", postal_code="09012")
    assert not judged("0.7", address=address).is_abroad


def test_an_unweighed_piece_is_not_decided(judged: Judged) -> None:
    verdict = judged(None)
    assert (verdict.quote, verdict.offer, verdict.payment, verdict.declaration) == (None, None, None, None)
    assert (verdict.stamps, verdict.money, verdict.status) == (None, None, PieceStatus.TO_WEIGH)
    assert verdict.charged.text() == "5.00"


def test_terms_are_equal_if_their_shop_rules_and_day_are(rulebook: Rulebook, terms: Terms) -> None:
    assert Terms(made.shop(), rulebook, made.ON) == terms
    assert Terms(made.shop(), rulebook, date(2026, 7, 16)) != terms
    assert Terms(made.shop(), rulebook, made.ON, Decimal("0.5")) != terms


def test_new_terms_get_price_rules_of_their_own(terms: Terms) -> None:
    other = replace(terms, on=date(2026, 7, 16))
    assert other.price_rules is not terms.price_rules
    assert (other.price_rules.on, terms.price_rules.on) == (date(2026, 7, 16), made.ON)
