import pytest

from desk.domain.shop.shop import ParcelPayment
from desk.session.contents.hand_over_contents import group_of, hand_over_content
from desk.session.pile.batch import judge_batch
from desk.session.verdict.verdict import Terms
from tests.session.made import ON, case, policy, shop


@pytest.mark.parametrize(("payment", "group"), [(ParcelPayment.ONLINE, "pickup"), (ParcelPayment.COUNTER, "counter")])
def test_parcels_go_where_their_postage_is_paid(rulebook, payment, group):
    terms = Terms(shop(policy=policy(parcel_payment=payment)), rulebook, ON)
    letter, parcel = judge_batch([case(number="1"), case("3", "Padded", number="2")], terms).verdicts
    assert (group_of(letter), group_of(parcel)) == ("box", group)


def test_the_line_to_sign_counts_the_pieces(terms):
    content = hand_over_content(judge_batch([case(number="1"), case(None, number="2")], terms), terms)
    assert content.signature == "1 piece received. Name, signature, date"
