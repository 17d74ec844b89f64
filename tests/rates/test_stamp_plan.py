"""Stamps over a whole batch, compared with trying every choice and with one piece after another."""

from __future__ import annotations

import subprocess
import sys
from collections import Counter
from itertools import combinations_with_replacement, product

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from desk.domain.money import Money
from desk.domain.shop.stamp import StampKind, StampStock
from desk.rates.stamps.stamp_plan import StampNeed, _sets, plan_stamps
from desk.rates.stamps.stamps import choose_stamps
from tests.conftest import ROOT

ONE, TWO = StampNeed(Money(82)), StampNeed(Money(111))
VALUES = {
    StampKind.FOREVER: Money(82),
    StampKind.ADDITIONAL_OUNCE: Money(29),
    StampKind.TWO_OUNCE: Money(111),
    StampKind.NONMACHINABLE: Money(131),
    StampKind.GLOBAL_FOREVER: Money(175),
}


def drawer(**counts: int) -> tuple[StampStock, ...]:
    return tuple(StampStock(StampKind(kind), count) for kind, count in counts.items())


def words(plan, need):
    return [(chosen.words(), number) for chosen, number in plan.sets[need]]


def used(plan) -> Counter[StampKind]:
    counted: Counter[StampKind] = Counter()
    for sets in plan.sets.values():
        for chosen, number in sets:
            for kind, _, count in chosen.stamps:
                counted[kind] += count * number
    return counted


def overpaid(plan) -> int:
    return sum(chosen.overpaid.minor * number for sets in plan.sets.values() for chosen, number in sets)


def test_with_enough_stamps_every_piece_gets_its_best_set():
    plan = plan_stamps({ONE: 3, TWO: 2}, drawer(forever=9, additional_ounce=9), VALUES)
    assert words(plan, ONE) == [("1 forever", 3)]
    assert words(plan, TWO) == [("1 forever + 1 additional_ounce", 2)]
    assert (dict(plan.short), overpaid(plan)) == ({}, 0)


def test_pieces_left_without_stamps_are_counted():
    plan = plan_stamps({ONE: 3}, drawer(forever=2), VALUES)
    assert words(plan, ONE) == [("1 forever", 2)]
    assert plan.short == {ONE: 1}
    assert plan_stamps({ONE: 2}, (), VALUES).short == {ONE: 2}


def test_a_set_is_kept_for_the_piece_that_needs_it():
    """Piece by piece, the light letter would take the only forever stamp and leave none for the heavy one."""
    stock = drawer(forever=1, two_ounce=1)
    plan = plan_stamps({TWO: 1, ONE: 1}, stock, VALUES)
    assert (words(plan, ONE), words(plan, TWO)) == ([("1 forever", 1)], [("1 two_ounce", 1)])
    first = choose_stamps(TWO.postage, drawer(forever=1, additional_ounce=1), VALUES)
    assert first is not None


def test_more_pieces_paid_goes_before_less_overpaid():
    plan = plan_stamps({ONE: 2}, drawer(forever=1, two_ounce=1), VALUES)
    assert (plan.short, overpaid(plan)) == ({}, 29)


def test_nonmachinable_stamps_go_on_nonmachinable_letters_while_others_do():
    square = StampNeed(Money(131), nonmachinable=True)
    stock = drawer(nonmachinable=2, forever=4, additional_ounce=4)
    plan = plan_stamps({square: 2, StampNeed(Money(131)): 1}, stock, VALUES)
    assert words(plan, square) == [("1 nonmachinable", 2)]
    assert words(plan, StampNeed(Money(131))) == [("1 forever + 2 additional_ounce", 1)]
    alone = plan_stamps({StampNeed(Money(131)): 1}, drawer(nonmachinable=1), VALUES)
    assert words(alone, StampNeed(Money(131))) == [("1 nonmachinable", 1)]


def test_of_two_equal_sets_the_one_without_scarce_stamps_is_used():
    stock = drawer(two_ounce=1, forever=9, additional_ounce=9)
    assert words(plan_stamps({TWO: 3}, stock, VALUES), TWO) == [("1 forever + 1 additional_ounce", 3)]
    assert words(plan_stamps({TWO: 1}, stock, VALUES), TWO) == [("1 two_ounce", 1)]


@pytest.mark.parametrize(("most", "short"), [(2, 0), (1, 1)])
def test_no_more_stamps_go_on_a_piece_than_are_allowed(most, short):
    plan = plan_stamps({TWO: 1}, drawer(forever=2), VALUES, most)
    assert sum(plan.short.values()) == short


def test_without_a_maximum_a_set_of_many_stamps_is_found_too():
    dimes = (StampStock(StampKind.FACE, 20, Money(10)),)
    plan = plan_stamps({ONE: 1}, dimes, VALUES)
    assert words(plan, ONE) == [("9 face 0.10", 1)]


def test_stamps_for_mail_abroad_are_not_used_on_domestic_mail():
    plan = plan_stamps({ONE: 1, StampNeed(Money(175), abroad=True): 1}, drawer(global_forever=2), VALUES)
    assert plan.short == {ONE: 1}


def test_the_solver_prints_nothing():
    words = (
        "from tests.rates.test_stamp_plan import ONE, VALUES, drawer, plan_stamps\n"
        "plan_stamps({ONE: 2}, drawer(forever=1, two_ounce=1), VALUES)"
    )
    done = subprocess.run([sys.executable, "-c", words], capture_output=True, text=True, check=True, cwd=ROOT)
    assert (done.stdout, done.stderr) == ("", "")


SMALL = st.dictionaries(
    st.sampled_from(["forever", "additional_ounce", "two_ounce", "nonmachinable"]), st.integers(1, 3), min_size=1
)
PIECES = st.dictionaries(
    st.sampled_from([ONE, TWO, StampNeed(Money(140)), StampNeed(Money(131), nonmachinable=True)]),
    st.integers(1, 2),
    min_size=1,
    max_size=3,
)


def by_hand(needs, stock):
    """Return the best totals over every way to give each piece one of all sets of up to three stamps."""
    pieces = [need for need, count in needs.items() for _ in range(count)]
    total = len(pieces)
    kinds = [one.kind for one in stock]
    held = {one.kind: one.count for one in stock}
    sets = [()] + [each for size in (1, 2, 3) for each in combinations_with_replacement(kinds, size)]
    best = None
    options = [
        [each for each in sets if not each or sum(VALUES[k].minor for k in each) >= need.postage.minor]
        for need in pieces
    ]
    for way in product(*options):
        taken = Counter(kind for each in way for kind in each)
        if any(taken[kind] > held[kind] for kind in taken):
            continue
        paid = sum(bool(each) for each in way)
        misused = sum(
            each.count(StampKind.NONMACHINABLE)
            for each, need in zip(way, pieces, strict=True)
            if not need.nonmachinable
        )
        over = sum(
            sum(VALUES[k].minor for k in each) - need.postage.minor
            for each, need in zip(way, pieces, strict=True)
            if each
        )
        scarce = sum(count for kind, count in taken.items() if held[kind] < total)
        figures = (-paid, misused, over, scarce, sum(taken.values()))
        best = figures if best is None else min(best, figures)
    return best


@settings(max_examples=25, deadline=None)
@given(SMALL, PIECES)
def test_no_other_division_of_the_stamps_is_better(counts, needs):
    """Small stocks, compared with every way tried here."""
    stock = drawer(**counts)
    total = sum(needs.values())
    if total > 4:
        return
    plan = plan_stamps(needs, stock, VALUES, 3)
    taken, held = used(plan), {one.kind: one.count for one in stock}
    assert all(taken[kind] <= held[kind] for kind in taken)
    misused = sum(
        count * number
        for need, sets in plan.sets.items()
        for chosen, number in sets
        for kind, _, count in chosen.stamps
        if kind is StampKind.NONMACHINABLE and not need.nonmachinable
    )
    scarce = sum(count for kind, count in taken.items() if held[kind] < total)
    figures = (sum(plan.short.values()) - total, misused, overpaid(plan), scarce, sum(taken.values()))
    assert figures == by_hand(needs, stock)


@pytest.mark.parametrize(("count", "short"), [(2, 0), (1, 1)])
def test_stamps_that_make_the_postage_exactly_with_the_most_allowed_are_enough(count, short):
    halves = (StampStock(StampKind.FACE, count, Money(41)),)
    plan = plan_stamps({ONE: 1}, halves, VALUES, 2)
    assert sum(plan.short.values()) == short


@pytest.mark.parametrize(("forever", "short"), [(5, 0), (4, 1)])
def test_a_stock_with_exactly_enough_stamps_is_enough(forever, short):
    plan = plan_stamps({ONE: 5}, drawer(forever=forever), VALUES)
    assert (used(plan)[StampKind.FOREVER], sum(plan.short.values())) == (forever, short)


def test_stamps_as_many_as_pieces_are_not_scarce_and_one_fewer_are():
    plenty = drawer(two_ounce=2, forever=2, additional_ounce=2)
    assert words(plan_stamps({TWO: 2}, plenty, VALUES), TWO) == [("1 two_ounce", 2)]
    few = drawer(two_ounce=1, forever=3, additional_ounce=3)
    assert words(plan_stamps({TWO: 2}, few, VALUES), TWO) == [("1 forever + 1 additional_ounce", 2)]


def test_a_set_one_cent_short_pays_nothing():
    plan = plan_stamps({StampNeed(Money(83)): 1}, drawer(forever=1), VALUES)
    assert (plan.sets[StampNeed(Money(83))], dict(plan.short)) == ((), {StampNeed(Money(83)): 1})
    cents = (*drawer(forever=1), StampStock(StampKind.FACE, 9, Money(1)))
    assert words(plan_stamps({StampNeed(Money(83)): 1}, cents, VALUES), StampNeed(Money(83))) == [
        ("1 forever + 1 face 0.01", 1)
    ]


def test_a_set_never_has_more_of_a_kind_than_the_stock():
    assert _sets((50,), (1,), 100, 6) == ()
    assert _sets((50,), (2,), 100, 6) == ((2,),)
