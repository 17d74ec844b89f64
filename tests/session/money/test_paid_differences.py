"""What was paid compared with the estimate: only beyond the sum that is left alone, with the likely reason."""

from __future__ import annotations

from dataclasses import replace

import pytest

from desk.costs.paid_difference import Cause, Reason
from desk.domain.ledger import Entry
from desk.domain.money import Money
from desk.session.money.books import read_books
from desk.session.money.paid import enter_paid, match_text
from desk.session.money.paid_differences import causes_in_words, paid_differences, pieces_that_differ, rows_that_differ
from desk.session.papers.hand_over import hand_pieces_over
from desk.session.undo import undo
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


def paid(sitting, pile, order, minor, kind="paid"):
    enter_paid(sitting, match_text(sitting, f"order,paid,type\n{order},{Money(minor).text()},{kind}\n"))
    return paid_differences(pile, rows_that_differ(sitting))


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


def causes(sitting, pile, order, minor):
    (group,) = paid(sitting, pile, order, minor)
    (piece,) = group.pieces
    assert piece.causes == group.causes
    return group.causes


def test_the_next_weight_of_a_letter_is_recognized(sitting, pile):
    """Notice 123, July 12, 2026: $0.82 for one ounce, $1.11 for two."""
    (group,) = paid(sitting, pile, "1001", 111)
    assert (group.causes, group.service) == ((Cause(Reason.MORE_WEIGHT),), "letter-stamped")
    assert [piece.reference for piece in group.pieces] == ["1001-1"]


def test_a_later_adjustment_counts_as_paid(sitting, pile):
    enter_paid(sitting, match_text(sitting, "order,paid\n1002,11.35\n"))  # as estimated
    assert paid_differences(pile, read_books(sitting)) == []
    (group,) = paid(sitting, pile, "1002", 100, "adjustment")
    assert (group.difference, group.pieces[0].paid) == (Money(100), Money(1235))


def test_a_refund_by_the_carrier_reduces_what_was_paid(sitting, pile):
    enter_paid(sitting, match_text(sitting, "order,paid\n1002,12.35\n"))
    assert paid(sitting, pile, "1002", 100, "refund") == []


@pytest.mark.parametrize(
    ("minor", "refund", "expected"),
    [
        (82, 82, "refunded by the carrier"),  # a voided label
        (120, 42, "refunded by the carrier"),  # down to $0.78, the price of a metered letter
        (120, 9, "one weight step more"),  # still more than the estimate
    ],
)
def test_a_refund_below_the_estimate_is_the_cause_and_no_price_is(sitting, pile, minor, refund, expected):
    enter_paid(sitting, match_text(sitting, f"order,paid\n1001,{Money(minor).text()}\n"))
    (group,) = paid(sitting, pile, "1001", refund, "refund") or paid_differences(pile, read_books(sitting), Money(0))
    assert causes_in_words(group.causes) == expected


def test_an_amount_entered_before_the_hand_over_is_compared_too(sitting):
    made.stock(sitting, [made.order("1001")])
    pile = made.following_pile(sitting)
    made.weigh_piece(sitting, 1, made.weighing("0.7"))
    enter_paid(sitting, match_text(sitting, "order,paid\n1001,1.11\n"))
    with sitting.store.act("Postage on") as tx:
        hand_overs.put_postage_on(tx, [1])
    pile.read_all()
    hand_pieces_over(sitting, pile, [1])
    (group,) = paid_differences(pile, read_books(sitting))
    assert (group.difference, group.causes) == (Money(29), (Cause(Reason.MORE_WEIGHT),))


@pytest.mark.parametrize(
    ("service", "expected"),
    [
        ("Media Mail", "bought as “Media Mail”"),
        ("priority mail®", "bought as “priority mail®”"),
        ("Balloon post", "bought as “Balloon post”, a service we don't know"),
        ("Ground Advantage", "no reason found"),
        ("ground (retail)", "no reason found"),
        ("ground-commercial", "bought as “ground-commercial”"),
    ],
)
def test_the_service_named_with_the_amount_is_compared_with_the_estimated_one(sitting, pile, service, expected):
    enter_paid(sitting, match_text(sitting, f"order,paid,service\n1002,6.17,{service}\n"))
    (group,) = paid_differences(pile, read_books(sitting))
    assert causes_in_words(group.causes) == expected


@pytest.mark.parametrize(
    ("service", "expected"),
    [("Ground Advantage", "price of ground (online)"), ("ground (retail)", "no reason found")],
)
def test_a_name_of_two_services_allows_the_price_of_the_other(sitting, pile, service, expected):
    """Notice 123, July 12, 2026: up to 15.999 oz to zone 6, $11.35 retail and $7.86 commercial."""
    enter_paid(sitting, match_text(sitting, f"order,paid,service\n1002,7.86,{service}\n"))
    (group,) = paid_differences(pile, read_books(sitting))
    assert causes_in_words(group.causes) == expected


def test_without_a_named_service_the_price_of_another_one_is_a_cause(sitting, pile):
    """Notice 123: a letter of one ounce is $0.82 with stamps and $0.78 metered; $0.78 with stamps on October 5, 2025."""
    enter_paid(sitting, match_text(sitting, "order,paid\n1001,0.78\n"))
    (group,) = paid_differences(pile, read_books(sitting), Money(0))
    assert causes_in_words(group.causes) == "price of an older list (Oct 5, 2025) or price of letter, metered"


def test_several_causes_are_all_named(sitting):
    causes = (Cause(Reason.NEWER_LIST, "2026-10-04"), Cause(Reason.ZONE_OFF, "6"), Cause(Reason.MORE_WEIGHT))
    words = "price of a newer list (Oct 4, 2026) or priced as zone 6 or one weight step more"
    assert causes_in_words(causes) == words
    assert causes_in_words(()) == "no reason found"


def test_undo_removes_a_named_service_with_its_amount(sitting, pile):
    enter_paid(sitting, match_text(sitting, "order,paid,service\n1002,6.17,Media Mail\n"))
    undo(sitting)
    (group,) = paid(sitting, pile, "1002", 617)
    assert group.causes == (Cause(Reason.UNKNOWN),)


@pytest.mark.parametrize(("more", "ids"), [(10, []), (11, [1]), (-11, [1])])
def test_only_the_rows_of_pieces_that_differ_are_read(sitting, pile, more, ids):
    enter_paid(sitting, match_text(sitting, f"order,paid\n1001,{Money(82 + more).text()}\n1002,11.35\n"))
    assert pieces_that_differ(sitting) == ids
    assert {row.piece_id for row in rows_that_differ(sitting)} == set(ids)
    whole = paid_differences(pile, read_books(sitting))
    assert whole == paid_differences(pile, rows_that_differ(sitting))
