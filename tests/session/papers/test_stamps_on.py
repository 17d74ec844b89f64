"""Stamps go on pieces, come back by undo, and are never chosen twice."""

import pytest

from desk.domain.faults import Refused
from desk.domain.money import Money
from desk.domain.orders.piece import PieceKey
from desk.domain.shop.stamp import StampKind, StampStock
from desk.domain.status import PieceStatus
from desk.session.bench.weigh import weigh
from desk.session.importing.import_orders import import_orders, import_shop
from desk.session.papers.hand_over import hand_pieces_over
from desk.session.papers.stamps_on import StampTotal, pile_stamps, put_stamps_on, take_stamps_off
from desk.session.pile.bulk_changes import set_beside
from desk.session.pile.pile import Pile
from desk.session.pile.stored_cases import read_terms
from desk.session.undo import next_steps, undo
from tests.session.made import order, policy, shop, stock, weigh_piece, weighing

FOREVER, OUNCE = StampKind.FOREVER, StampKind.ADDITIONAL_OUNCE


# Three letters: one ounce, two ounces, one ounce; a pile that follows what acts change.
pytestmark = pytest.mark.stocked(
    [order(number) for number in "123"], weights={"1": weighing("0.7"), "2": weighing("1.5"), "3": weighing("0.7")}
)


def words(pile):
    return [verdict.stamps.words() if verdict.stamps else "" for verdict in pile.verdicts.values()]


def on_hand(pile):
    return [stock.count for stock in read_terms(pile.sitting).shop.stamps]


def test_the_stamps_of_a_pile_are_totaled_before_stamping(pile):
    assert pile_stamps(pile.batch()) == (StampTotal(FOREVER, None, 3, 2), StampTotal(OUNCE, None, 1, 2))
    assert [total.words for total in pile_stamps(pile.batch())] == [
        "3 Forever, 2 left: runs low",
        "1 additional ounce, 2 left",
    ]


def test_stamps_are_taken_from_the_stock_and_the_piece_is_labeled(pile):
    first, second, _ = pile.verdicts
    put_stamps_on(pile.sitting, pile, [second])
    assert on_hand(pile) == [4, 2]
    assert pile.verdicts[second].status is PieceStatus.LABELED
    assert words(pile) == ["1 forever", "1 additional_ounce + 1 forever", "1 forever"]
    assert pile_stamps(pile.batch()) == (StampTotal(FOREVER, None, 2, 2),)
    assert pile.verdicts[first].status is PieceStatus.READY


def test_undo_restores_the_stamps(pile):
    before = words(pile)
    put_stamps_on(pile.sitting, pile, list(pile.verdicts))
    assert on_hand(pile) == [2, 2]
    assert undo(pile.sitting) == "Stamps on 3 pieces"
    assert (on_hand(pile), words(pile)) == ([5, 3], before)
    assert {verdict.status for verdict in pile.verdicts.values()} == {PieceStatus.READY}
    assert all(verdict.case.stamps_on == () for verdict in pile.verdicts.values())


def test_stamps_that_are_on_a_piece_stay_when_the_stock_changes(pile):
    first = next(iter(pile.verdicts))
    put_stamps_on(pile.sitting, pile, [first])
    import_shop(pile.sitting, shop(stamps=(StampStock(StampKind.FACE, 90, Money(1)),), policy=policy(max_stamps=99)))
    assert words(pile) == ["1 forever", "", "82 face 0.01"]
    assert pile.verdicts[first].stamps.overpaid == Money(0)


def test_stamps_put_on_are_those_shown_on_screen(pile):
    shown = {number: verdict.stamps for number, verdict in pile.verdicts.items()}
    for number in pile.verdicts:
        put_stamps_on(pile.sitting, pile, [number])
    assert {number: {*verdict.stamps.stamps} for number, verdict in pile.verdicts.items()} == {
        number: {*chosen.stamps} for number, chosen in shown.items()
    }


def test_stamps_with_a_face_value_are_counted_by_it(pile):
    import_shop(pile.sitting, shop(stamps=(StampStock(StampKind.FACE, 9, Money(41)),)))
    first = next(iter(pile.verdicts))
    put_stamps_on(pile.sitting, pile, [first])
    assert pile.verdicts[first].stamps.words() == "2 face 0.41"
    assert on_hand(pile) == [7]


def test_the_step_names_the_stamps(pile):
    first, *_ = pile.verdicts
    put_stamps_on(pile.sitting, pile, [first])
    assert undo(pile.sitting) == "Stamps on 1: 1 Forever"


def test_a_piece_without_stamps_to_put_on_is_refused(pile, sitting):
    first, *_ = pile.verdicts
    put_stamps_on(pile.sitting, pile, [first])
    with pytest.raises(Refused, match="1 already has its postage"):
        put_stamps_on(pile.sitting, pile, [first])
    import_orders(sitting, [order("4")])
    fourth = list(pile.verdicts)[3]
    with pytest.raises(Refused, match="4 has no stamps"):
        put_stamps_on(pile.sitting, pile, [fourth])
    assert on_hand(pile) == [4, 3]


def test_a_stopped_piece_gets_no_stamps(pile, sitting):
    from dataclasses import replace

    from tests.session.made import HOME

    import_orders(sitting, [order("1", address=replace(HOME, city=""))])
    first, *_ = pile.verdicts
    with pytest.raises(Refused, match=r"1 can.t be mailed like this"):
        put_stamps_on(pile.sitting, pile, [first])
    assert pile_stamps(pile.batch())[0].takes == 2


def test_a_piece_set_aside_gets_no_stamps(pile, sitting):
    """The stamps it shows were never taken from the stock: two such pieces show the same stamps."""
    first, *_ = pile.verdicts
    set_beside(sitting, [first], PieceStatus.SET_ASIDE)
    assert words(pile)[0] == "1 forever"
    with pytest.raises(Refused, match="1 is set aside"):
        put_stamps_on(pile.sitting, pile, [first])
    assert on_hand(pile) == [5, 3]
    set_beside(sitting, [first], None)
    put_stamps_on(pile.sitting, pile, [first])
    assert on_hand(pile) == [4, 3]


def test_stamps_taken_off_return_to_the_stock(pile):
    first, second, _ = pile.verdicts
    put_stamps_on(pile.sitting, pile, [first, second])
    take_stamps_off(pile.sitting, pile, [second])
    assert on_hand(pile) == [4, 3]
    assert [verdict.status for verdict in pile.verdicts.values()] == [
        PieceStatus.LABELED,
        PieceStatus.READY,
        PieceStatus.READY,
    ]
    assert next_steps(pile.sitting)[0] == "Stamps taken off 1 piece"
    undo(pile.sitting)
    assert on_hand(pile) == [3, 2]
    assert pile.verdicts[second].status is PieceStatus.LABELED
    take_stamps_off(pile.sitting, pile, [first, second])
    assert on_hand(pile) == [5, 3]
    put_stamps_on(pile.sitting, pile, [second])
    assert on_hand(pile) == [4, 2]
    assert words(pile)[1] == "1 additional_ounce + 1 forever"


@pytest.mark.parametrize("left", [False, True])
def test_stamps_are_not_taken_off_a_piece_without_any_or_handed_over(pile, left):
    first, second, _ = pile.verdicts
    put_stamps_on(pile.sitting, pile, [second])
    if left:
        hand_pieces_over(pile.sitting, pile, [second])
    with pytest.raises(Refused, match="2 has been handed over" if left else "1 has no postage on it"):
        take_stamps_off(pile.sitting, pile, [second] if left else [second, first])
    assert on_hand(pile) == [4, 2]


def test_no_more_stamps_go_on_a_piece_than_the_shop_allows(sitting):
    cents = (StampStock(StampKind.FACE, 500, Money(20)),)
    stock(sitting, [order("1")], shop(stamps=cents, policy=policy(max_stamps=4)))
    weigh(sitting, [(PieceKey("1"), weighing("0.7"))])
    (short,) = [one.found for one in Pile(sitting).batch().shared if one.found.code == "not-enough-stamps"]
    assert dict(short.facts) == {"pieces": 1, "would_do": "1 Forever"}
    import_shop(sitting, shop(stamps=cents, policy=policy(max_stamps=5)))
    (enough,) = Pile(sitting).verdicts.values()
    assert enough.stamps.words() == "5 face 0.20"


def test_following_stamp_changes_equals_reading_everything(pile):
    first, second, _ = pile.verdicts
    put_stamps_on(pile.sitting, pile, [second])
    assert dict(pile.verdicts) == dict(Pile(pile.sitting).verdicts)
    assert pile.batch() == Pile(pile.sitting).batch()
    undo(pile.sitting)
    put_stamps_on(pile.sitting, pile, [first])
    assert dict(pile.verdicts) == dict(Pile(pile.sitting).verdicts)


def test_another_stock_with_as_many_kinds_is_calculated_again(pile, sitting):
    import_shop(
        sitting, shop(stamps=(StampStock(StampKind.FACE, 9, Money(41)), StampStock(StampKind.FACE, 9, Money(29))))
    )
    assert words(pile) == ["2 face 0.41", "2 face 0.41 + 1 face 0.29", "2 face 0.41"]
    assert dict(pile.verdicts) == dict(Pile(sitting).verdicts)
    import_shop(sitting, shop(stamps=(StampStock(FOREVER, 9), StampStock(OUNCE, 9))))
    assert words(pile) == ["1 forever", "1 forever + 1 additional_ounce", "1 forever"]


def test_only_changed_verdicts_are_reported(pile):
    first, *_ = pile.verdicts
    reported = []
    pile.sitting.listeners[:] = [lambda changes: reported.append(pile.follow(changes))]
    put_stamps_on(pile.sitting, pile, [first])
    assert reported == [frozenset({first})]


def test_stamps_for_another_weight_than_the_store_has_are_refused(pile):
    """Another bench weighed the piece again, and this pile has not heard of it yet."""
    sitting = pile.sitting
    stale, (first, second, _) = Pile(sitting), pile.verdicts
    weigh_piece(sitting, first, weighing("2.7"))
    with pytest.raises(Refused, match="1 was weighed again at another bench"):
        put_stamps_on(sitting, stale, [first, second])
    put_stamps_on(sitting, stale, [second])
    with pytest.raises(Refused, match="2 already has its postage on"):
        put_stamps_on(sitting, stale, [second])


@pytest.mark.parametrize(("left", "low"), [(4, True), (5, False), (6, False)])
def test_stamps_are_low_when_another_such_pile_would_need_more(left, low):
    assert StampTotal(FOREVER, None, 5, left).runs_low is low
