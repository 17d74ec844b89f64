"""Paid compared with estimated: the correct reason, group by group, largest amount first."""

from __future__ import annotations

from dataclasses import replace
from datetime import date

import pytest

from desk.costs.paid_difference import Cause, PaidPiece, Reason, differences
from desk.domain.money import Money

FARTHER, NEARER, MORE = Cause(Reason.ZONE_OFF, "6"), Cause(Reason.ZONE_OFF, "4"), Cause(Reason.MORE_WEIGHT)
SIZE, OTHER = Cause(Reason.SIZE), Cause(Reason.PRICE_OF_SERVICE, "priority-commercial")
PIECE = PaidPiece(
    "1001-1", "ground-commercial", "5", "July 12, 2026", date(2026, 11, 28), Money(720), Money(720),
    one_change=((SIZE, Money(1100)), (OTHER, Money(760)), (NEARER, Money(690)), (FARTHER, Money(760)), (MORE, Money(800))),
)  # fmt: skip


@pytest.mark.parametrize(
    ("change", "causes"),
    [
        ({"paid": Money(760)}, (FARTHER, OTHER)),  # both fit, the likelier first
        ({"paid": Money(690)}, (NEARER,)),
        ({"paid": Money(691)}, ()),
        ({"paid": Money(800)}, (MORE,)),
        ({"paid": Money(1100)}, (SIZE,)),
        ({"paid": Money(755)}, ()),
        ({"paid": Money(755), "list_until": date(2026, 11, 27)}, (Cause(Reason.OLD_LIST),)),
        ({"paid": Money(755), "list_until": date(2026, 11, 28)}, ()),
        ({"paid": Money(800), "list_until": date(2026, 11, 27)}, (MORE,)),
        (
            {"paid": Money(900), "named": (Cause(Reason.BOUGHT_AS, "Media Mail"),)},
            (Cause(Reason.BOUGHT_AS, "Media Mail"),),
        ),
    ],
)
def test_every_cause_that_matches_to_the_cent_is_named(change, causes):
    assert replace(PIECE, **change).causes == causes


def test_two_sizes_with_one_price_are_one_cause():
    piece = replace(PIECE, paid=Money(1100), one_change=((SIZE, Money(1100)), (SIZE, Money(1100))))
    assert piece.causes == (SIZE,)


@pytest.mark.parametrize(("cents", "listed"), [(729, False), (730, False), (731, True), (709, True), (710, False)])
def test_only_differences_above_the_amount_set_by_the_shop_are_listed(cents, listed):
    assert bool(differences([replace(PIECE, paid=Money(cents))], Money(10))) is listed


def test_many_pieces_off_by_the_same_percentage_point_to_an_old_price_list():
    pieces = [replace(PIECE, estimated=Money(cents), paid=Money(round(cents * 1.35))) for cents in (500, 700, 900)]
    (group,) = differences(pieces, Money(10))
    assert group.causes == (Cause(Reason.OLD_LIST),)
    assert group.difference == Money(175 + 245 + 315)


def test_each_service_is_a_group_the_largest_difference_first():
    small, large = replace(PIECE, paid=Money(760)), replace(PIECE, service="priority-commercial", paid=Money(1100))
    assert [group.service for group in differences([small, large], Money(10))] == [
        "priority-commercial",
        "ground-commercial",
    ]


@pytest.mark.parametrize(
    ("paid", "reason"),
    [
        ((675, 945, 1215), Reason.OLD_LIST),  # each 35% more
        ((675, 945, 1233), Reason.OLD_LIST),  # 35% to 37%
        ((675, 945, 1234), Reason.UNKNOWN),  # 35% to 37.1%
        ((675, 945), Reason.UNKNOWN),  # two pieces are not enough
    ],
)
def test_a_list_has_moved_when_three_pieces_differ_by_the_same_two_percent(paid, reason):
    pieces = [
        replace(PIECE, estimated=Money(estimated), paid=Money(minor))
        for estimated, minor in zip((500, 700, 900), paid, strict=False)
    ]
    (group,) = differences(pieces, Money(10))
    assert group.causes == (Cause(reason),)


def test_of_equally_frequent_causes_a_known_one_is_named():
    pieces = [replace(PIECE, paid=Money(755)), replace(PIECE, paid=Money(800))]
    (group,) = differences(pieces, Money(10))
    assert group.causes == (MORE,)


def test_a_cause_of_fewer_pieces_than_those_without_one_is_not_the_cause_of_the_group():
    pieces = [replace(PIECE, paid=Money(755)), replace(PIECE, paid=Money(600)), replace(PIECE, paid=Money(800))]
    (group,) = differences(pieces, Money(10))
    assert group.causes == (Cause(Reason.UNKNOWN),)


def test_the_group_has_the_causes_that_explain_the_most_pieces():
    pieces = [replace(PIECE, paid=Money(cents)) for cents in (760, 760, 690, 800)]
    (group,) = differences(pieces, Money(10))
    assert group.causes == (FARTHER, OTHER)
