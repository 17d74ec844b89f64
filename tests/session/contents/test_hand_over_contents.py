from dataclasses import replace

import pytest

from desk.domain.shop.shop import ParcelPayment
from desk.session.contents.hand_over_contents import group_of, hand_over_content
from desk.session.pile.batch import judge_batch
from desk.session.verdict.verdict import Terms
from tests.session.made import CARD, FRANCE, HOME, ON, case, policy, shop


@pytest.mark.parametrize(("payment", "group"), [(ParcelPayment.ONLINE, "pickup"), (ParcelPayment.COUNTER, "counter")])
def test_parcels_go_where_their_postage_is_paid(rulebook, payment, group):
    terms = Terms(shop(policy=policy(parcel_payment=payment)), rulebook, ON)
    letter, parcel = judge_batch([case(number="1"), case("3", "Padded", number="2")], terms).verdicts
    assert (group_of(letter), group_of(parcel)) == ("box", group)


def test_the_line_to_sign_counts_the_pieces(terms):
    content = hand_over_content(judge_batch([case(number="1"), case(None, number="2")], terms), terms)
    assert content.signature == "1 piece received. Name, signature, date"


def test_military_and_island_addresses_have_their_own_group(rulebook):
    """Postal Bulletin, in force since 2024-07-14 (read in the trade press): goods of any weight need a form."""
    terms = Terms(shop(), rulebook, ON)
    answered = frozenset({"form-may-be-needed", "zone-estimated"})
    places = {"1": ("APO", "AE", "09012"), "2": ("Hagatna", "GU", "96910"), "3": ("Bend", "OR", "97701")}
    cases = [
        case("3", "Padded", number=number, answered=answered, address=replace(HOME, city=city, region=state, postal_code=code))
        for number, (city, state, code) in places.items()
    ]  # fmt: skip
    content = hand_over_content(judge_batch(cases, terms), terms)
    assert [(group.heading.split(":")[0], len(group.rows)) for group in content.groups] == [
        ("Military and island addresses", 2),
        ("Pickup or drop-off", 1),
    ]
    assert [row.mark for row in content.groups[0].rows] == ["CN22", "CN22"]


def test_a_labeled_piece_with_a_customs_issue_is_held_and_named(rulebook):
    unknown = replace(CARD, hs="")
    terms = Terms(shop(products=(unknown,)), rulebook, ON)
    held = case("5", "Padded", number="7", address=FRANCE, postage_on=True)
    content = hand_over_content(judge_batch([held], terms), terms)
    assert content.groups == ()
    assert content.notes[-1] == "Labeled, but held until the customs issue is fixed: 7."
