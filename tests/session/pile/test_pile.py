"""A pile that follows changes equals one read again: the same pieces in the same order with equal verdicts."""

from datetime import date

import pytest

from desk.domain.changes import EVERYTHING, Changes
from desk.domain.orders.piece import PieceKey
from desk.domain.shop.shop import Untracked
from desk.domain.status import PieceStatus
from desk.session.bench.another_piece import add_piece
from desk.session.bench.weigh import weigh
from desk.session.importing.import_orders import import_orders, import_shop
from desk.session.papers.stamps_on import put_stamps_on
from desk.session.pile.bulk_changes import choose_mailer, set_beside
from desk.session.pile.mailing_date import post_on
from desk.session.pile.pile import PiecesWhere, Pile
from desk.session.undo import redo, undo
from desk.store.tables.hand_overs import hand_over
from tests.session.made import following_pile, order, policy, shop, stock, weigh_piece, weighing


def references(pile):
    return [pile.verdicts[number].case.key.reference for number in pile.in_turn()]


def test_an_added_piece_is_placed_with_its_order(sitting):
    stock(sitting, [order("1"), order("2")])
    pile = following_pile(sitting)
    add_piece(sitting, PieceKey("1", 2))
    assert references(pile) == ["1-1", "1-2", "2-1"] == references(Pile(sitting))
    assert list(pile.verdicts) == list(Pile(sitting).verdicts)
    undo(sitting)
    assert references(pile) == ["1-1", "2-1"]
    redo(sitting)
    assert references(pile) == ["1-1", "1-2", "2-1"]


def test_a_pile_is_empty_until_orders_are_imported(sitting):
    stock(sitting, [])
    pile = following_pile(sitting)
    assert pile.is_empty
    import_orders(sitting, [order("1")])
    assert not pile.is_empty


pytestmark = pytest.mark.stocked([order("1"), order("2"), order("3")])


def weighed(pile, *numbers):
    for number in numbers:
        weigh(pile.sitting, [(PieceKey(number), weighing())])


def test_weighed_pieces_come_in_the_order_weighed_and_the_others_as_imported(pile):
    assert references(pile) == ["1-1", "2-1", "3-1"]
    weighed(pile, "3", "2")
    assert references(pile) == ["3-1", "2-1", "1-1"]
    assert [verdict.case.key.reference for verdict in pile.batch().verdicts] == references(pile)
    assert list(pile.verdicts) == [1, 2, 3]
    turns = [pile.turn_of(number) for number in (3, 2, 1)]
    assert turns[0] < turns[1]
    assert turns[2] is None


@pytest.mark.parametrize(
    ("typed", "found"), [("2", 2), (" 2 ", 2), ("2-1", 2), ("2-2", 4), ("4", None), ("", None), ("2-3", None)]
)
def test_a_piece_is_found_by_its_order_or_its_reference(pile, typed, found):
    add_piece(pile.sitting, PieceKey("2", 2))
    assert pile.find(typed) == found


@pytest.mark.parametrize(
    ("typed", "found"),
    [
        ("3009", ["TK-3009-1"]),
        (" 3009 ", ["TK-3009-1"]),
        ("3009-1", ["TK-3009-1"]),
        ("3012-2", ["TK-3012-2"]),
        ("3012", ["TK-3012-1"]),  # its first package
        ("77", ["A#77-1", "B#77-1"]),
        ("009", []),  # only part of its digits
        ("9", []),
        ("2", []),  # the number of the package, not of the order
        ("TK-3009", []),  # the whole number is found as such
        ("", []),
    ],
)
def test_digits_find_a_number_that_has_a_prefix(sitting, typed, found):
    stock(sitting, [order(number) for number in ("TK-3009", "TK-3012", "A#77", "B#77", "55")])
    pile = following_pile(sitting)
    add_piece(sitting, PieceKey("TK-3012", 2))
    assert [pile.verdicts[each].case.key.reference for each in pile.find_by_digits(typed)] == found


@pytest.mark.parametrize(
    ("typed", "found"),
    [
        ("43", ["1043-1"]),
        ("3", ["1043-1", "B#33-1"]),
        ("1043", ["1043-1"]),
        ("44", []),  # handed over
        ("45", []),  # set aside
        ("-2", []),
        ("", []),
    ],
)
def test_last_digits_find_only_pieces_in_progress(sitting, typed, found):
    stock(sitting, [order(number) for number in ("1043", "1044", "1045", "B#33")])
    pile = following_pile(sitting)
    add_piece(sitting, PieceKey("1043", 2))
    with sitting.store.act("Hand over") as tx:
        hand_over(tx, [pile.find("1044")])
    sitting.announce(sitting.store.last_changes)
    set_beside(sitting, [pile.find("1045")], PieceStatus.SET_ASIDE)
    assert [pile.verdicts[each].case.key.reference for each in pile.find_by_ending(typed)] == found


def test_a_missing_piece_has_no_place_in_the_order(pile):
    with pytest.raises(KeyError):
        pile.turn_of(999)


def test_only_changed_pieces_are_judged_again_and_announced(pile):
    before = dict(pile.verdicts)
    reported = []
    pile.sitting.listeners[:] = [lambda changes: reported.append(pile.follow(changes))]
    choose_mailer(pile.sitting, [2], "Padded")
    assert reported == [frozenset({2})]
    assert [pile.verdicts[number] is before[number] for number in (1, 2, 3)] == [True, False, True]


def test_a_step_without_changes_announces_nothing(pile):
    assert pile.follow(Changes()) == frozenset()
    assert pile.follow(Changes(pieces=frozenset({1, 2, 3}))) == frozenset()


@pytest.mark.parametrize(
    "changes", [Changes(pieces=EVERYTHING), Changes(settings=True), Changes(orders=frozenset({1}))]
)
def test_a_change_for_every_piece_reads_everything_again(pile, changes):
    before = pile.verdicts[1]
    assert pile.follow(changes) == frozenset()
    assert pile.verdicts[1] is not before
    assert pile.verdicts[1] == before


def test_new_stamps_are_used_without_judging_again(pile):
    weighed(pile, "1", "2", "3")
    add = count_stamps(pile)
    put_stamps_on(pile.sitting, pile, [1])
    assert count_stamps(pile) == add - 1
    assert Pile(pile.sitting).batch().drawer_left == pile.batch().drawer_left


def count_stamps(pile):
    return sum(stock.count for stock in pile.terms.shop.stamps)


def test_another_policy_judges_every_piece_again(pile):
    weighed(pile, "1", "2")
    import_shop(pile.sitting, shop(policy=policy(parcel_services=(), untracked=Untracked.ASKED)))
    assert [verdict.offer for verdict in pile.verdicts.values()] == [None] * 3
    assert dict(pile.verdicts) == dict(Pile(pile.sitting).verdicts)


def test_a_pile_uses_the_chosen_mailing_date(pile):
    assert pile.terms.on == date(2026, 7, 15)
    post_on(pile.sitting, date(2026, 8, 1))
    assert pile.terms.on == date(2026, 8, 1)
    undo(pile.sitting)
    assert pile.terms.on == date(2026, 7, 15)


def test_a_piece_removed_with_its_order_leaves_the_pile(sitting):
    import_orders(sitting, [order("1")])
    pile = following_pile(sitting)
    undo(sitting)
    assert (dict(pile.verdicts), pile.in_turn(), pile.batch().verdicts) == ({}, [], ())


def test_an_order_number_finds_its_first_piece_and_a_reference_its_own(sitting):
    stock(sitting, [order("1001"), order("1002")])
    add_piece(sitting, PieceKey("1001", 2))
    pile = Pile(sitting)
    assert [pile.find(number) for number in ("1001", "1001-1", "1001-2", " 1002 ", "1002-2", "9")] == [
        1,
        1,
        3,
        2,
        None,
        None,
    ]


def test_only_pieces_of_an_order_in_several_packages_are_called_by_a_piece_number(sitting):
    stock(sitting, [order("1001"), order("1002")])
    pile = following_pile(sitting)
    assert pile.numbers() == {"1001-1": "1001", "1002-1": "1002"}
    add_piece(sitting, PieceKey("1001", 2))
    assert pile.numbers() == {"1001-1": "1001-1", "1001-2": "1001-2", "1002-1": "1002"}
    assert [pile.number_of(one) for one in ("1002-1", "1001-1", "9-1")] == ["1002", "1001-1", "9-1"]


def test_pieces_that_pass_a_test_follow_every_weighing_and_undo(sitting):
    stock(sitting, [order(str(number)) for number in range(1, 7)])
    pile = following_pile(sitting)
    open_ones = PiecesWhere(pile, lambda verdict: verdict.case.weighing is None)
    assert (len(open_ones), [*open_ones.after(None)]) == (6, [1, 2, 3, 4, 5, 6])
    for number in (2, 4, 6):
        weigh_piece(sitting, number, weighing())
    assert (len(open_ones), [*open_ones.after(4)]) == (3, [5, 1, 3])
    assert [*open_ones.after(99)] == [1, 3, 5]
    undo(sitting)
    assert [*open_ones.after(5)] == [5, 6, 1, 3]
    import_orders(sitting, [order("7")])
    assert [*open_ones.after(None)] == [1, 3, 5, 6, 7]
