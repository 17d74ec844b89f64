"""Pieces that left on an earlier day are not read at the start, and are there as soon as someone asks for them."""

from datetime import timedelta

import pytest

from desk.domain.clock import today
from desk.domain.orders.piece import PieceKey
from desk.domain.status import PieceStatus
from desk.session.bench.another_piece import next_piece_key
from desk.session.bench.weigh import weigh
from desk.session.importing.import_orders import import_orders
from desk.session.learned.memory import Memory
from desk.session.money.after_mailing import mark_after_mailing
from desk.session.papers.hand_over import hand_pieces_over
from desk.session.papers.stamps_on import put_stamps_on
from desk.session.pile.alike import Alike
from desk.session.pile.earlier import ids_matching, ids_of_numbers, ids_that_left, latest_weighed, past_weighings
from desk.session.pile.pile import Pile
from desk.session.undo import undo
from tests.session import made

HOUR = timedelta(hours=1).total_seconds()


@pytest.fixture
def next_day(sitting, clock):
    """Yesterday 1001 and TK-1002 were handed over, and 1003 was not weighed."""
    sitting.on = today(clock)
    made.stock(sitting, [made.order(number) for number in ("1001", "TK-1002", "1003")])
    weigh(sitting, [(PieceKey(number), made.weighing()) for number in ("1001", "TK-1002")])
    pile = made.following_pile(sitting)
    put_stamps_on(sitting, pile, [1, 2])
    hand_pieces_over(sitting, pile, [1, 2])
    sitting.listeners.clear()
    clock.forward(24 * HOUR)
    sitting.on = today(clock)
    return sitting


def numbers(pile):
    return [verdict.case.key.order for verdict in pile.verdicts.values()]


def test_pieces_that_left_yesterday_are_counted_but_not_read(next_day):
    pile = Pile(next_day)
    assert (numbers(pile), pile.unread, pile.is_empty) == (["1003"], 2, False)
    assert pile.counts.status == {PieceStatus.TO_WEIGH: 1}
    assert ids_that_left(next_day) == [2, 1]


def test_pieces_that_left_today_are_still_read(next_day, clock):
    clock.forward(-24 * HOUR)
    next_day.on = today(clock)
    assert numbers(Pile(next_day)) == ["1001", "TK-1002", "1003"]
    assert Pile(next_day).unread == 0


def test_pieces_handed_over_for_today_are_still_read_whenever_that_was(sitting, clock):
    """Closed in the evening with the mailing date of the next day."""
    sitting.on = today(clock) + timedelta(days=1)
    made.stock(sitting, [made.order("1001")])
    weigh(sitting, [(PieceKey("1001"), made.weighing())])
    pile = made.following_pile(sitting)
    put_stamps_on(sitting, pile, [1])
    hand_pieces_over(sitting, pile, [1])
    clock.forward(24 * HOUR)
    assert numbers(Pile(sitting)) == ["1001"]
    clock.forward(24 * HOUR)
    sitting.on = today(clock)
    assert numbers(Pile(sitting)) == []


def test_a_returned_piece_is_read_again(next_day):
    mark_after_mailing(next_day, [1], PieceStatus.CAME_BACK, "no such street")
    assert numbers(Pile(next_day)) == ["1001", "1003"]


def test_requested_pieces_are_judged_as_if_all_were_read_and_stay(next_day, clock):
    pile, verdicts = Pile(next_day), {}
    assert pile.bring([1, 2, 3]) == {1, 2}
    assert pile.bring([1]) == set()
    clock.forward(-24 * HOUR)
    verdicts = Pile(next_day).verdicts
    assert (dict(pile.verdicts), list(pile.verdicts), pile.unread) == (dict(verdicts), [1, 2, 3], 0)
    clock.forward(24 * HOUR)
    pile.read_all()
    assert list(pile.verdicts) == [1, 2, 3]


@pytest.mark.parametrize(("typed", "found"), [("1001", 1), ("1001-1", 1), ("TK-1002", 2), ("1002", None), ("9", None)])
def test_a_number_that_left_is_found(next_day, typed, found):
    pile = Pile(next_day)
    assert pile.find(typed) == found
    assert pile.find_by_digits(typed) == ([2] if typed == "1002" else [])


def test_digits_of_a_number_in_the_batch_are_not_searched_among_mailed_pieces(next_day):
    import_orders(next_day, [made.order("AB-1002")])
    pile = Pile(next_day)
    assert pile.find_by_digits("1002") == [4]
    assert pile.unread == 2


def test_the_next_package_of_an_order_that_left_can_be_added(next_day):
    pile = Pile(next_day)
    assert pile.find("1001-2") is None
    assert next_piece_key("1001-2", frozenset(one.case.key for one in pile.verdicts.values())) == PieceKey("1001", 2)


def test_undoing_a_hand_over_restores_the_pieces(next_day):
    pile = made.following_pile(next_day)
    undo(next_day)
    assert (numbers(pile), pile.unread) == (["1001", "TK-1002", "1003"], 0)
    assert pile.counts.status == {PieceStatus.LABELED: 2, PieceStatus.TO_WEIGH: 1}


def test_weighings_of_mailed_pieces_are_learned_too(next_day):
    pile = Pile(next_day)
    assert pile.memory.stale
    assert [one.piece_id for one in past_weighings(pile.sitting, pile.terms.shop)] == [1, 2]
    pile.memory = Memory.rebuild(pile.terms.shop, past_weighings(pile.sitting, pile.terms.shop))
    pile.bring([1, 2])
    assert not pile.memory.stale


def test_mailers_of_earlier_days_count_once_those_days_are_read(next_day):
    import_orders(next_day, [made.order("1004"), made.order("1005")])
    weigh(next_day, [(PieceKey("1004"), made.weighing())])
    pile = Pile(next_day)
    alike = Alike(pile)
    assert alike.usual(3) is None
    pile.know(latest_weighed(next_day))
    assert [one.id for one in pile.latest] == [1, 2, 4]
    usual = alike.usual(3)
    assert usual is not None
    assert (usual.name, usual.times) == ("A7", 2)
    assert Alike(pile).last_weighed(4).key.order == "TK-1002"


@pytest.mark.parametrize(
    ("text", "ids"), [("tk-10", [2]), ("1001", [1]), ("1003", []), ("ADA", [2, 1]), ("card", [2, 1]), ("%", [])]
)
def test_a_search_finds_mailed_pieces_by_number_name_and_item(next_day, text, ids):
    assert ids_matching(next_day, text) == ids


def test_numbers_are_looked_up_with_every_piece_of_their_orders(next_day):
    assert ids_of_numbers(next_day, ["1001-1", "1003", "nothing"]) == [1, 3]
    assert ids_of_numbers(next_day, []) == []
