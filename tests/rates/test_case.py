"""A case: what is known about a piece before its weight is looked at."""

from __future__ import annotations

from dataclasses import replace

import pytest

from desk.domain.money import Money
from desk.domain.weight import Weight
from desk.rates.case import form_of_piece, open_case
from desk.rates.shape import UNMEASURED, form_of
from tests.rates.tiny import BOX, ENVELOPE, LETTER, chart, piece, rules


def opened(posting, **policy):
    return open_case(posting, rules(**policy), form_of_piece(posting))


def test_candidates_keep_the_order_of_the_shop_and_other_services_are_excluded():
    case = opened(piece("1"), parcel_services=("priority-retail", "ground-retail", "media"))
    assert [(each.place, each.service) for each in case.candidates] == [
        (0, "letter-stamped"),
        (2, "flat"),
        (3, "priority-retail"),
        (4, "ground-retail"),
    ]
    assert {out.service for out in case.outs} == {"postcard", "media", "priority-flat-envelope-retail"}


def test_the_zone_is_looked_up_only_for_services_that_ask():
    assert opened(piece("1", allowed=("letter-stamped",))).zone is None
    assert opened(piece("1")).zone.zone == "5"
    assert opened(piece("5", BOX, country="DE")).zone is None


def test_each_candidate_has_its_own_key():
    assert {each.service: each.key for each in opened(piece("1")).candidates} == {
        "letter-stamped": "",
        "flat": "",
        "ground-retail": "5",
    }
    assert [each.key for each in opened(piece("5", BOX, country="DE")).candidates] == ["1"]


def test_every_candidate_is_an_offer_or_excluded_at_any_weight():
    case = opened(piece("1"))
    for ounces in ("0.5", "3.5", "3.6", "14", "500"):
        step = case.step_at(Weight.of(ounces, "oz"))
        named = [ranked.of.service for ranked in step.ranked] + [out.service for out in step.outs]
        assert sorted(named) == sorted(each.service for each in case.candidates)
        assert [ranked.price.minor for ranked in step.ranked] == sorted(ranked.price.minor for ranked in step.ranked)


def test_offers_of_one_price_are_sorted_by_surcharges_then_by_the_shop_order():
    plain = chart("ground-retail", {"16": "1.30"}, key="5", keyed_by="zone")
    also = replace(plain, service="priority-retail")
    case = open_case(
        piece("1", stiff=True),
        rules(LETTER, plain, also, parcel_services=("priority-retail", "ground-retail")),
    )
    ranked = case.step_at(Weight.of("1", "oz")).ranked
    assert [(one.of.service, one.price.text()) for one in ranked] == [
        ("priority-retail", "1.30"),
        ("ground-retail", "1.30"),
        ("letter-stamped", "1.30"),  # 0.80 plus the surcharge of 0.50
    ]


@pytest.mark.parametrize(
    ("low", "high", "limits"),
    [
        ("3.9", "4.1", ["4"]),
        ("4", "4.1", []),  # the end itself is certain
        ("3.9", "4", []),
        ("15.9", "33", ["15.999", "16", "32"]),
        ("300", "400", ["320"]),
        ("1100", "1200", ["1120"]),
        ("5", "7", []),
    ],
)
def test_limits_between_two_weights_exclude_both_ends(low, high, limits):
    case = opened(piece("5", BOX))
    found = case.limits_between(Weight.of(low, "oz"), Weight.of(high, "oz"))
    assert list(found) == [Weight.of(limit, "oz") for limit in limits]


def test_a_weight_at_a_limit_belongs_to_the_step_below_it():
    case = opened(piece("5", BOX))
    at, over, far = (case.step_at(Weight.of(ounces, "oz")) for ounces in ("16", "16.001", "32"))
    assert [step.ranked[0].price.text() for step in (at, over, far)] == ["8.00", "11.00", "11.00"]
    assert over is far
    assert at is not over


def test_without_a_service_there_is_no_limit():
    case = opened(piece("5", BOX, country="SO"))
    assert case.limits_between(Weight.of("1", "oz"), Weight.of("500", "oz")) == ()
    assert case.step_at(Weight.of("5", "oz")).ranked == ()


def test_pieces_that_differ_only_in_weight_share_one_case():
    day = rules()
    one, two = (open_case(piece(ounces), day) for ounces in ("1", "2"))
    assert one.opened is two.opened
    assert open_case(piece("1", stamp_asked=True), day).opened is not one.opened
    assert open_case(piece("1", value=Money(100, "EUR")), day).opened is not one.opened


def test_an_unmeasured_piece_is_a_parcel():
    assert form_of_piece(piece("1", None)) is UNMEASURED
    assert form_of_piece(piece("1", ENVELOPE)) == form_of(ENVELOPE)
