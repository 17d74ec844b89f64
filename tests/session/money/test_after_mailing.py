"""What happens after mailing: came back, lost, sent again, claims and refunds, each undone to what was before."""

from __future__ import annotations

from datetime import date

import pytest

from desk.domain.faults import Refused
from desk.domain.ledger import GroupBy
from desk.domain.money import Money
from desk.domain.status import PieceStatus
from desk.session.money.after_mailing import (
    NOTES,
    DaysNoted,
    Noted,
    enter_claim_paid,
    mailed_pieces,
    mark_after_mailing,
    note_day,
    send_again,
)
from desk.session.money.books import read_sums
from desk.session.papers.hand_over import hand_pieces_over
from desk.session.undo import undo
from desk.store.tables import settings
from tests.session import made

pytestmark = pytest.mark.stocked(
    [made.order("1001", shipping_paid=Money(400)), made.order("1002")], weights={"1001": made.weighing("0.7")}, left=[1]
)


def test_a_mailed_piece_can_be_marked_as_returned_with_a_reason_and_undone(sitting, pile) -> None:
    spent = read_sums(sitting, GroupBy.YEAR)[0].margin
    mark_after_mailing(sitting, [1], PieceStatus.CAME_BACK, " no such  number ")
    (one,) = mailed_pieces(sitting, pile)
    assert (one.status, one.reason) == (PieceStatus.CAME_BACK, "no such number")
    assert read_sums(sitting, GroupBy.YEAR)[0].margin == spent
    undo(sitting)
    assert mailed_pieces(sitting, pile)[0].status is PieceStatus.HANDED_OVER


def test_a_piece_that_was_not_mailed_cannot_be_lost_or_sent_again(sitting, pile) -> None:
    with pytest.raises(Refused, match="1002 has not been handed over"):
        mark_after_mailing(sitting, [1, 2], PieceStatus.LOST, "")
    assert mailed_pieces(sitting, pile)[0].status is PieceStatus.HANDED_OVER
    with pytest.raises(Refused, match="not been handed over"):
        send_again(sitting, pile, [2])


def test_a_replacement_is_a_new_piece_with_its_value_and_no_shipping_paid(sitting, pile) -> None:
    before = pile.verdicts[1].case.order
    assert send_again(sitting, pile, [1]) == ("1001R",)
    fresh = pile.verdicts[pile.find("1001R")].case
    assert fresh.order.goods_value == before.goods_value
    assert fresh.order.shipping_paid == Money(0)
    assert fresh.order.address == before.address
    made.weigh_piece(sitting, pile.find("1001R"), made.weighing("0.7"))
    assert pile.verdicts[pile.find("1001R")].money.charged == Money(0)
    assert pile.verdicts[pile.find("1001R")].postage == pile.verdicts[1].postage
    assert send_again(sitting, pile, [1]) == ("1001R2",)
    assert send_again(sitting, pile, [1]) == ("1001R3",)


def test_undo_removes_the_replacement(sitting, pile) -> None:
    send_again(sitting, pile, [1])
    undo(sitting)
    assert pile.find("1001R") is None


def test_the_date_of_a_refund_is_saved_and_can_be_changed(sitting, pile) -> None:
    for day in (1, 3):
        note_day(sitting, [1], Noted.REFUND_PAID, date(2026, 12, day))
    note_day(sitting, [1], Noted.CLAIM_FILED, date(2026, 12, 20))
    (one,) = mailed_pieces(sitting, pile)
    assert (one.refunded_on, one.claimed_on) == (date(2026, 12, 3), date(2026, 12, 20))


def test_a_day_noted_for_one_package_leaves_those_of_others(sitting) -> None:
    note_day(sitting, [1, 2], Noted.REFUND_PAID, date(2026, 12, 1))
    note_day(sitting, [1], Noted.REFUND_PAID, date(2026, 12, 3))
    with sitting.store.reading() as conn:
        noted = settings.read(conn, NOTES, DaysNoted())
    assert noted.of(Noted.REFUND_PAID) == {1: date(2026, 12, 3), 2: date(2026, 12, 1)}
    assert len(noted.days) == 2


def test_a_paid_claim_raises_the_margin_by_exactly_its_amount(sitting, pile) -> None:
    before = read_sums(sitting, GroupBy.YEAR)[0].margin
    enter_claim_paid(sitting, 1, Money(1234))
    assert read_sums(sitting, GroupBy.YEAR)[0].margin == before + Money(1234)
    assert mailed_pieces(sitting, pile)[0].paid_back == Money(1234)
    undo(sitting)
    assert read_sums(sitting, GroupBy.YEAR)[0].margin == before
    with pytest.raises(Refused):
        enter_claim_paid(sitting, 1, Money(0))


@pytest.mark.stocked(
    [made.order("1001", lines=(made.line(made.BOOK),))], weights={"1001": made.weighing("12.4", "Padded")}
)
def test_a_tracked_parcel_is_covered_by_its_price(sitting, pile) -> None:
    """Insurance up to 100 dollars is included with ground parcels (from memory, DMM 503)."""
    hand_pieces_over(sitting, pile, [1])
    (one,) = mailed_pieces(sitting, pile)
    assert one.cover == Money(10000)
    assert one.claim is not None


def test_a_letter_has_no_included_insurance_and_no_claim_period(sitting, pile) -> None:
    (one,) = mailed_pieces(sitting, pile)
    assert not one.cover
    assert one.claim is None
