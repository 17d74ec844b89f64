"""What was paid compared with the estimate: only beyond the sum that is left alone, with the likely reason."""

from __future__ import annotations

from dataclasses import replace

import pytest

from desk.costs.paid_difference import Reason
from desk.domain.ledger import Entry
from desk.domain.money import Money
from desk.session.money.books import read_books
from desk.session.money.paid import enter_paid, match_text
from desk.session.money.paid_differences import paid_differences
from desk.session.papers.hand_over import hand_pieces_over
from desk.store.tables import hand_overs
from tests.session import made


@pytest.fixture
def pile(sitting):
    """A letter of one ounce for $0.82, and a parcel of 12.3 oz by ground, both handed over."""
    made.stock(sitting, [made.order("1001"), made.order("1002")])
    pile = made.following_pile(sitting)
    made.weigh_piece(sitting, 1, made.weighing("0.7"))
    made.weigh_piece(sitting, 2, made.weighing("12.3", "Padded"))
    with sitting.store.act("Postage on") as tx:
        hand_overs.put_postage_on(tx, [1, 2])
    pile.read_all()
    hand_pieces_over(sitting, pile, [1, 2])
    return pile


def paid(sitting, pile, order, minor):
    enter_paid(sitting, match_text(sitting, f"order,paid\n{order},{Money(minor).text()}\n"))
    return paid_differences(pile, read_books(sitting))


@pytest.mark.parametrize(("more", "is_named"), [(9, False), (10, False), (11, True), (-10, False), (-11, True)])
def test_a_difference_of_up_to_ten_cents_is_left_alone(sitting, pile, more, is_named):
    groups = paid(sitting, pile, "1001", 82 + more)
    assert [group.difference.minor for group in groups] == ([more] if is_named else [])


def test_an_estimate_that_was_undone_does_not_count(sitting, pile):
    paid(sitting, pile, "1001", 111)
    rows = read_books(sitting)
    first = next(row for row in rows if row.entry is Entry.POSTAGE_ESTIMATED and row.reference == "1001-1")
    undone = [replace(first, amount=Money(-600)), replace(first, amount=Money(600), why="undone")]
    assert [group.difference.minor for group in paid_differences(pile, [*undone, *rows])] == [29]


def test_without_a_paid_amount_nothing_differs(sitting, pile):
    assert paid_differences(pile, read_books(sitting), Money(0)) == []


def test_the_next_weight_of_a_letter_is_recognized(sitting, pile):
    """Notice 123, July 12, 2026: $0.82 for one ounce, $1.11 for two."""
    (group,) = paid(sitting, pile, "1001", 111)
    assert (group.reason, group.service, [piece.reference for piece in group.pieces]) == (
        Reason.NEXT_WEIGHT,
        "letter-stamped",
        ["1001-1"],
    )


@pytest.mark.parametrize("step", [-1, 1])
def test_the_price_of_a_neighboring_zone_is_recognized(sitting, pile, step):
    offer = pile.verdicts[2].offer
    near = offer.chart.row(offer.weight, str(int(offer.key) + step)).price
    (group,) = paid(sitting, pile, "1002", near.minor)
    assert (group.reason, group.zone) == (Reason.ZONE_OFF, offer.key)


def test_a_price_two_zones_away_is_not_explained(sitting, pile):
    offer = pile.verdicts[2].offer
    far = offer.chart.row(offer.weight, str(int(offer.key) - 2)).price
    (group,) = paid(sitting, pile, "1002", far.minor)
    assert group.reason is Reason.UNKNOWN


def test_a_fee_for_size_that_was_not_estimated_is_recognized(sitting, pile):
    """The carrier measured the parcel as longer: its price and one of the list's fees for size."""
    offer = pile.verdicts[2].offer
    lists = pile.terms.rulebook.charts.lists[offer.service]
    fee = next(fee for chart in lists for fee in chart.surcharges if fee.code == "long-22")
    (group,) = paid(sitting, pile, "1002", (offer.price + fee.amount).minor)
    assert group.reason is Reason.DIMENSIONS
