"""What the page of a piece says beyond the bench, and what a pile says about its mailers."""

from decimal import Decimal

import pytest

from desk.domain.length import Size
from desk.domain.money import Money
from desk.domain.orders.piece import Weighing
from desk.domain.shop.mailer import Mailer, MailerKind
from desk.domain.weight import Shown, WeightUnit
from desk.session.bench.piece_page import SizeHint, near, piece_page, size_hints
from desk.session.pile.batch import judge_batch
from desk.session.verdict.verdict import Terms
from tests.session.made import BOOK, ENVELOPE, ON, case, line, policy, shop


@pytest.fixture
def page(judged, terms):
    return lambda *words, **fields: piece_page(judged(*words, **fields), terms)


def test_a_lighter_weight_that_saves_a_price_step_is_shown(judged, terms):
    """1.11 against 0.82 for a stamped letter, list of 2026-07-12."""
    assert near(judged("1.1"), terms) == "0.2 oz lighter would cost $0.29 less"
    assert near(judged("1.5"), terms) == "0.6 oz lighter would cost $0.29 less"
    assert near(judged("0.7"), terms) == ""
    assert near(judged(None), terms) == ""


def test_a_reading_on_the_limit_has_to_be_one_step_less(judged, terms):
    assert near(judged("1.0"), terms) == "0.1 oz lighter would cost $0.29 less"


def test_the_suggested_weight_is_in_the_unit_of_the_scale(judged, terms):
    reading = Weighing(Shown(Decimal(30), WeightUnit.GRAM, Decimal(1)), "A7")
    assert near(judged(weighing=reading), terms) == "3 g lighter would cost $0.29 less"


def test_a_cheaper_service_is_named(judged, terms):
    """3.6 oz pays as a large envelope at 2.56; 3.5 oz as a letter at 1.69."""
    assert near(judged("3.7"), terms) == "0.3 oz lighter would cost $0.87 less, as letter, stamped"


def test_the_page_lists_each_eligible_service_once_with_its_price(page):
    found = page("0.7")
    offers = {each.service: each for each in found.offers}
    assert len(offers) == len(found.offers)
    assert {"letter, stamped", "ground (retail)", "ground (online)"} <= offers.keys()
    assert "large envelope" not in offers
    assert [each.service for each in found.offers if each.is_chosen] == ["letter, stamped"]
    assert (offers["letter, stamped"].price, offers["letter, stamped"].row) == ("$0.82", "up to 1 oz")
    assert offers["letter, stamped"].billable == "1 oz"
    assert found.left_out == ()


def test_a_service_whose_limit_is_exceeded_is_listed_with_the_limit(page):
    """A letter ends at 3.5 oz (DMM 101.1.1; price list of July 12, 2026)."""
    at, over = page("3.4"), page("3.7")
    assert "letter, stamped" not in {each.service for each in at.left_out}
    reasons = {each.service: each.why for each in over.left_out}
    assert reasons["letter, stamped"] == "Over the weight limit of 3.5 oz."


def test_a_chosen_service_that_is_not_eligible_says_why(judged, terms):
    found = piece_page(judged("12", service="letter-stamped"), terms)
    assert {each.service: each.why for each in found.left_out}["letter, stamped"]
    assert not any(each.is_chosen for each in found.offers)


def test_an_unweighed_piece_has_an_empty_page(page):
    found = page(None)
    assert (found.number, found.near, found.smaller, found.offers, found.left_out) == ("1001", "", (), (), ())


THICK = Mailer("Puffy", MailerKind.PADDED, Size.of("9", "6", "0.3", "in"))
LONG = Mailer("Long", MailerKind.FLAT, Size.of("12", "6", "0.1", "in"))


def test_size_hints_are_collected_for_the_whole_pile(terms, rulebook):
    from desk.session.verdict.verdict import Terms
    from tests.session.made import ON

    terms = Terms(shop(mailers=(ENVELOPE, THICK, LONG)), rulebook, ON)
    cases = [case("0.9", "Puffy", number="1"), case("0.9", "Puffy", number="2"), case("0.7", number="3")]
    batch = judge_batch([*cases, case("0.9", "Long", number="4"), case(None, number="5")], terms)
    assert size_hints(batch, terms) == (
        SizeHint("Puffy", "no thicker than 0.25 in", 2, Money(174)),
        SizeHint("Long", "no larger than 11.5 x 6.125 in", 1, Money(87)),
    )
    assert piece_page(batch.verdicts[0], terms).smaller == ("no thicker than 0.25 in would cost $0.87 less",)


def test_a_mailer_thinner_than_its_contents_is_not_suggested(terms, rulebook):
    from desk.session.verdict.verdict import Terms
    from tests.session.made import ON

    terms = Terms(shop(mailers=(THICK,)), rulebook, ON)
    batch = judge_batch([case("0.9", "Puffy", lines=(line(BOOK),))], terms)
    assert size_hints(batch, terms) == ()


def test_price_by_volume_and_flat_rate_are_shown_with_what_they_save(rulebook):
    """Notice 123, July 12, 2026: by volume 0.20 cubic feet, and flat-rate packaging sold online."""
    box = Mailer("Box", MailerKind.BOX, Size.of("8", "6", "5", "in"))
    online = shop(policy=policy(parcel_services=("ground-commercial",)), mailers=(box,))
    (verdict,) = judge_batch([case("240", "Box")], Terms(online, rulebook, ON)).verdicts
    by_volume, *flat = piece_page(verdict, Terms(online, rulebook, ON)).other_ways
    assert by_volume.startswith("ground by volume (online): $")
    assert by_volume.endswith(" less")
    assert flat
    assert all(" if it fits: $" in line for line in flat)
