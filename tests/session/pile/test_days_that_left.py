"""What was handed over, by mailing date, with the postage of then."""

from datetime import timedelta

import pytest

from desk.session.papers.hand_over import hand_pieces_over
from desk.session.pile.days_that_left import days_that_left
from desk.session.pile.mailing_date import post_on
from desk.session.undo import undo
from tests.session.made import BOOK, ON, line, order, weighing

pytestmark = pytest.mark.stocked(
    [order(number, lines=(line(BOOK),)) for number in "34"],
    weights={number: weighing("12", "Padded") for number in "34"},
)


def test_mailing_dates_are_listed_newest_first_with_the_postage_paid_then(pile):
    assert days_that_left(pile.sitting) == ()
    hand_pieces_over(pile.sitting, pile, [pile.find("3")])
    price = pile.verdicts[pile.find("3")].offer.price
    post_on(pile.sitting, ON + timedelta(days=1))
    hand_pieces_over(pile.sitting, pile, [pile.find("4")])
    newer, older = days_that_left(pile.sitting)
    assert (newer.day, list(newer.postage)) == (ON + timedelta(days=1), ["4-1"])
    assert (older.day, dict(older.postage)) == (ON, {"3-1": price})
    undo(pile.sitting)
    assert [day.day for day in days_that_left(pile.sitting)] == [ON]
