"""The library price: cheapest for media that goes from or to a library, and for nothing else (DMM 273.4, from memory)."""

from dataclasses import replace

import pytest

from desk.session.bench.service_choice import service_choices
from desk.session.verdict.judge import judge
from desk.session.verdict.library import names_a_library
from desk.session.verdict.verdict import Terms
from tests.session.made import CARD, HOME, MANUAL, ON, SENDER, case, line, policy, shop

SERVICES = ("ground-commercial", "media", "library")


@pytest.fixture
def terms(rulebook) -> Terms:
    return Terms(shop(policy=policy(parcel_services=SERVICES)), rulebook, ON)


def service(terms, product=MANUAL, **fields):
    offer = judge(case("17", "Padded", lines=(line(product),), **fields), terms).offer
    return offer and offer.service


@pytest.mark.parametrize(
    ("name", "expected"),
    [
        ("Duluth Public Library", "library"),
        ("St. Scholastica College, Acquisitions", "library"),
        ("MUSEUM OF PAPER", "library"),
        ("Ada Vell", "media"),
        ("Libraryson & Co", "media"),
    ],
)
def test_a_book_gets_the_library_price_only_to_a_library(terms, name, expected):
    assert service(terms, address=replace(HOME, company=name)) == expected


def test_a_library_that_sends_uses_the_library_price_for_every_buyer(terms):
    own = Terms(replace(terms.shop, sender=replace(SENDER, recipient="Sorrel School")), terms.rulebook, ON)
    assert service(own) == "library"


def test_goods_that_are_not_media_never_get_the_library_price(terms):
    assert service(terms, CARD, address=replace(HOME, company="City Library")) == "ground-commercial"


def test_the_library_price_may_be_chosen_by_hand_where_the_shop_lists_it(terms):
    assert service(terms, service="library") == "library"
    verdict = judge(case("17", "Padded", lines=(line(MANUAL),)), terms)
    assert "library" in {choice.service for choice in service_choices(verdict, terms)}


def test_a_library_in_the_street_name_does_not_count():
    assert not names_a_library(replace(HOME, address1="1 School St"))
