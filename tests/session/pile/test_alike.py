"""Pieces alike: by contents, never by guess; what one weight may speak for; which copies are checked after all."""

import random
from contextlib import suppress
from dataclasses import replace
from decimal import Decimal

import pytest

from desk.domain.changes import EVERYTHING, Changes
from desk.domain.faults import Refused
from desk.domain.orders.piece import PieceKey
from desk.domain.weight import Shown, WeightUnit
from desk.session.bench.another_piece import add_piece
from desk.session.bench.weigh import copy_weight, record_weight
from desk.session.pile.alike import FINEST, SAMPLE, Alike
from desk.session.pile.bulk_changes import choose_mailer
from desk.session.pile.packing import Placement
from desk.session.setup.change_shop import remove
from desk.session.undo import next_steps, redo, undo
from desk.store.tables.hand_overs import hand_over
from tests.session import made

A7, PADDED = Placement("A7"), Placement("Padded")


def oz(value, division="0.1", unit=WeightUnit.OUNCE):
    return Shown(Decimal(value), unit, Decimal(division))


def pile_of(sitting, *orders):
    made.stock(sitting, orders)
    return made.following_pile(sitting)


# Twelve orders of a card.
pytestmark = pytest.mark.stocked([made.order(str(number)) for number in range(1, 13)])


def weighed(pile, ids, value="0.7", placement=A7, **how):
    for number in ids:
        record_weight(pile.sitting, number, oz(value, **how), placement)


SAME = made.line(made.CARD, 2)
UNKNOWN = replace(made.line(), item="Odd thing", sku="", variant="blue")


def test_copies_with_postage_on_are_not_weighed_again(pile):
    sitting = pile.sitting
    weighed(pile, [1])
    copy_weight(sitting, 1, [2, 3, 4], oz("0.7"))
    assert Alike(pile).to_check(1) == [2, 3, 4]
    with sitting.store.act("Hand over") as tx:
        hand_over(tx, [2, 3])
    sitting.announce(sitting.store.last_changes)
    assert Alike(pile).to_check(1) == [4] == Alike(pile).all_to_check()


@pytest.mark.parametrize(
    ("lines", "alike"),
    [
        ((SAME,), True),
        ((replace(SAME, unit_price=made.Money(1)),), True),  # what was paid for it does not weigh
        ((replace(SAME, item="Another name of it"),), True),  # found by its sku
        ((made.line(made.CARD, 1),), False),
        ((made.line(made.CARD, 1), made.line(made.CARD, 1)), False),  # one card on two lines counts as two items
        ((SAME, made.line(made.FOLDER)), False),
        ((), False),
    ],
)
def test_contents_are_identical_by_product_and_count(sitting, lines, alike):
    pile = pile_of(sitting, made.order("1", lines=(SAME,)), made.order("2", lines=lines))
    assert Alike(pile).same_contents(1) == ([2] if alike else [])


def test_the_order_of_lines_does_not_matter(sitting):
    lines = (made.line(made.CARD, 2), made.line(made.FOLDER))
    pile = pile_of(sitting, made.order("1", lines=lines), made.order("2", lines=lines[::-1]))
    assert Alike(pile).same_contents(1) == [2]


@pytest.mark.parametrize(
    ("other", "alike"),
    [(UNKNOWN, True), (replace(UNKNOWN, variant="red"), False), (replace(UNKNOWN, item="odd thing"), False)],
)
def test_unknown_products_are_identical_only_by_the_exact_name(sitting, other, alike):
    pile = pile_of(sitting, made.order("1", lines=(UNKNOWN,)), made.order("2", lines=(other,)))
    assert Alike(pile).same_contents(1) == ([2] if alike else [])


def test_an_order_in_two_packages_matches_no_other_until_it_is_split(pile):
    add_piece(pile.sitting, PieceKey("1", 2))
    alike = Alike(pile)
    assert alike.same_contents(1) == []
    assert 1 not in alike.same_contents(2)


def test_a_package_with_unknown_contents_is_not_like_an_order_without_lines(sitting):
    alike = Alike(pile_of(sitting, made.order("1", lines=()), made.order("2")))
    add_piece(sitting, PieceKey("2", 2))
    assert (alike.same_contents(2), alike.have_same_contents(2, 1)) == ([], False)


def test_the_last_weighed_piece_is_the_last_one_on_the_scale(pile):
    alike = Alike(pile)
    assert alike.last_weighed(1) is None
    weighed(pile, [5, 3, 9])
    assert alike.last_weighed(1).key == PieceKey("9")
    assert alike.last_weighed(9).key == PieceKey("3")


def test_a_missing_piece_is_identical_to_none(pile):
    alike = Alike(pile)
    assert 12 in alike.same_contents(1)
    pile.verdicts.pop(12)
    assert 12 not in alike.same_contents(1)


def test_identical_pieces_waiting_are_unweighed_and_in_no_other_mailer(pile):
    alike = Alike(pile)
    assert alike.waiting(1) == []  # it has no weight to give
    weighed(pile, [1, 2])
    choose_mailer(pile.sitting, [3], "Padded")
    choose_mailer(pile.sitting, [4], "A7")
    assert alike.waiting(1) == list(range(4, 13))


def test_a_copied_weight_is_not_copied_again(pile):
    weighed(pile, [1])
    copy_weight(pile.sitting, 1, [2], oz("0.7"))
    assert Alike(pile).waiting(2) == []
    assert Alike(pile).waiting(1) == list(range(3, 13))


@pytest.mark.parametrize(("count", "others_take"), [(SAMPLE - 1, "0.8"), (SAMPLE, "0.710")])
def test_from_ten_identical_pieces_on_the_average_weight_is_copied(pile, count, others_take):
    """Source: at least ten identical pieces are weighed and the sum is divided (DMM 133.1.3, an older edition)."""
    weighed(pile, range(2, count + 1))
    weighed(pile, [1], "0.8")
    assert str(Alike(pile).weight_for_others(1).value) == others_take


def test_the_average_is_rounded_half_up_at_the_units_last_place(pile):
    weighed(pile, range(2, 12), "0.700", division="0.001")
    weighed(pile, [1], "0.7055", division="0.0005")
    taken = Alike(pile).weight_for_others(1)  # 7.7055 / 11 is 0.7005
    assert (str(taken.value), taken.division) == ("0.701", Decimal("0.001"))


def test_only_weights_from_the_scale_in_that_unit_and_mailer_are_averaged(pile):
    weighed(pile, range(1, 8), "0.7")
    copy_weight(pile.sitting, 1, [8], oz("0.7"))
    weighed(pile, [9], "20", unit=WeightUnit.GRAM)
    weighed(pile, [10], "0.9", PADDED)
    weighed(pile, [11], "0.7")
    weighed(pile, [12], "0.8")
    assert Alike(pile).weight_for_others(12) == oz("0.8")  # nine of them: too few


def test_every_unit_has_a_last_place(pile):
    assert FINEST.keys() == set(WeightUnit)


def test_no_copies_need_no_check(pile):
    weighed(pile, [1, 2])
    assert (Alike(pile).to_check(1), Alike(pile).all_to_check()) == ([], [])


@pytest.mark.parametrize(
    ("copies", "checked"),
    [([2], [2]), ([2, 3], [2, 3]), ([2, 3, 4], [2, 3, 4]), (list(range(2, 13)), [2, 7, 12])],
)
def test_the_first_middle_and_last_copy_are_checked_on_the_scale(pile, copies, checked):
    weighed(pile, [1])
    copy_weight(pile.sitting, 1, copies, oz("0.7"))
    assert Alike(pile).to_check(1) == checked == Alike(pile).all_to_check()


def test_a_check_that_was_made_is_not_asked_for_again(pile):
    weighed(pile, [1])
    copy_weight(pile.sitting, 1, range(2, 13), oz("0.7"))
    for piece, left in [(2, 2), (7, 1), (12, 0)]:
        weighed(pile, [piece], "0.71", division="0.01")
        assert len(Alike(pile).to_check(1)) == left


def test_a_weight_from_before_the_copies_is_not_a_check_of_them(pile):
    weighed(pile, [1, 2, 3])
    copy_weight(pile.sitting, 1, range(4, 13), oz("0.7"))
    assert len(Alike(pile).to_check(1)) == 3


def test_each_group_of_copies_has_its_own_checks(sitting):
    cards = [made.order(str(number)) for number in (1, 2)]
    books = [made.order(str(number), lines=(made.line(made.BOOK),)) for number in (3, 4)]
    pile = pile_of(sitting, *cards, *books)
    weighed(pile, [1], "0.7")
    weighed(pile, [3], "12", PADDED)
    copy_weight(sitting, 1, [2], oz("0.7"))
    copy_weight(sitting, 3, [4], oz("12"))
    assert Alike(pile).all_to_check() == [2, 4]


def test_reading_again_uses_the_current_shop(pile):
    """Without the product, the line's own words decide; they are equal here, so the group remains."""
    remove(pile.sitting, "products", 0)
    assert len(Alike(pile).same_contents(1)) == 11


def answers(alike, ids):
    """Everything asked of it, for all pieces."""
    asked = (
        alike.same_contents, alike.last_weighed, alike.usual, alike.waiting, alike.with_postage, alike.to_check,
    )  # fmt: skip
    return [[ask(number) for number in ids] for ask in asked], alike.all_to_check()


@pytest.mark.parametrize("seed", range(4))
def test_after_any_acts_it_equals_a_new_one(sitting, seed):
    chance = random.Random(seed)
    lines = ((SAME,), (UNKNOWN,), (made.line(made.BOOK),))
    pile = pile_of(sitting, *(made.order(str(number), lines=chance.choice(lines)) for number in range(1, 15)))
    alike, ids = Alike(pile), list(pile.verdicts)

    def copied():
        source = chance.choice(ids)
        weighed(pile, [source], "0.8")
        copy_weight(sitting, source, chance.sample([number for number in ids if number != source], 3), oz("0.8"))

    acts = {
        lambda: weighed(pile, [chance.choice(ids)], chance.choice(["0.7", "1.5"]), chance.choice([A7, PADDED])): 6,
        copied: 2,
        lambda: choose_mailer(sitting, [chance.choice(ids)], chance.choice(["A7", "Padded"])): 2,
        lambda: undo(sitting) if "imported" not in next_steps(sitting)[0] else None: 3,
        lambda: redo(sitting): 1,
        lambda: add_piece(sitting, PieceKey(pile.verdicts[chance.choice(ids)].case.key.order, 2)): 1,
        lambda: sitting.announce(Changes(orders=EVERYTHING)): 1,
    }
    for _ in range(40):
        with suppress(Refused):
            chance.choices([*acts], [*acts.values()])[0]()
        ids = list(pile.verdicts)
        assert answers(alike, ids) == answers(Alike(pile), ids)


def test_one_more_weighing_reads_the_mailer_of_that_piece_only(sitting):
    pile = pile_of(sitting, *(made.order(str(number)) for number in range(1, 60)))
    alike = Alike(pile)
    weighed(pile, range(1, 50))
    assert alike.usual(59).times == 48
    asked = []
    alike._case = lambda number: asked.append(number) or pile.verdicts[number].case
    weighed(pile, [50])
    assert (alike.usual(59).times, asked) == (49, [50])
