"""A case: what is settled about a piece before its weight is looked at."""

from __future__ import annotations

from desk.domain.weight import Weight
from desk.rates.case import form_of_piece, open_case
from desk.rates.shape import UNMEASURED, form_of
from tests.rates.tiny import BOX, ENVELOPE, piece, rules


def opened(posting, **policy):
    return open_case(posting, rules(**policy), form_of_piece(posting))


def test_candidates_keep_the_shop_order_and_the_rest_is_out():
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


def test_every_candidate_is_an_offer_or_out_at_any_weight():
    case = opened(piece("1"))
    for ounces in ("0.5", "3.5", "3.6", "14", "500"):
        offers, outs = case.priced_at(Weight.of(ounces, "oz"))
        named = [offer.service for offer in offers] + [out.service for out in outs]
        assert sorted(named) == sorted(each.service for each in case.candidates)
        assert [offer.price.minor for offer in offers] == sorted(offer.price.minor for offer in offers)


def test_a_piece_nobody_measured_is_a_parcel():
    assert form_of_piece(piece("1", None)) is UNMEASURED
    assert form_of_piece(piece("1", ENVELOPE)) == form_of(ENVELOPE)
