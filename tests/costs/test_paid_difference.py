"""Paid compared with estimated: the correct reason, group by group, largest amount first."""

from __future__ import annotations

from dataclasses import replace
from datetime import date

import pytest

from desk.costs.paid_difference import PaidPiece, Reason, differences, reason_for
from desk.domain.money import Money

PIECE = PaidPiece(
    "1001-1", "ground-commercial", "5", "July 12, 2026", date(2026, 11, 28), Money(720), Money(720),
    neighbors=(Money(690), Money(760)), next_weight=Money(800), dimensional=(Money(1100),),
)  # fmt: skip


@pytest.mark.parametrize(
    ("change", "reason"),
    [
        ({"paid": Money(760)}, Reason.ZONE_OFF),
        ({"paid": Money(690)}, Reason.ZONE_OFF),
        ({"paid": Money(800)}, Reason.NEXT_WEIGHT),
        ({"paid": Money(1100)}, Reason.DIMENSIONS),
        ({"paid": Money(755)}, Reason.UNKNOWN),
        ({"paid": Money(755), "list_until": date(2026, 11, 27)}, Reason.OLD_LIST),
        ({"paid": Money(755), "list_until": date(2026, 11, 28)}, Reason.UNKNOWN),
        ({"paid": Money(900), "paid_service": "priority-commercial"}, Reason.OTHER_SERVICE),
    ],
)
def test_each_difference_gets_its_likely_reason(change, reason):
    assert reason_for(replace(PIECE, **change)) is reason


@pytest.mark.parametrize(("cents", "listed"), [(729, False), (730, False), (731, True), (709, True), (710, False)])
def test_only_differences_above_the_amount_set_by_the_shop_are_listed(cents, listed):
    assert bool(differences([replace(PIECE, paid=Money(cents))], Money(10))) is listed


def test_many_pieces_off_by_the_same_percentage_point_to_an_old_price_list():
    pieces = [replace(PIECE, estimated=Money(cents), paid=Money(round(cents * 1.35))) for cents in (500, 700, 900)]
    (group,) = differences(pieces, Money(10))
    assert group.reason is Reason.OLD_LIST
    assert group.difference == Money(175 + 245 + 315)


def test_differences_are_grouped_by_currency():
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
    assert group.reason is reason


def test_of_equally_frequent_reasons_a_known_one_is_listed_first():
    pieces = [replace(PIECE, paid=Money(755)), replace(PIECE, paid=Money(760))]
    (group,) = differences(pieces, Money(10))
    assert group.reason is Reason.ZONE_OFF


def test_size_is_not_a_reason_where_the_estimate_already_used_it():
    same = replace(PIECE, estimated=Money(1100), paid=Money(1100), next_weight=None)
    assert reason_for(same) is Reason.UNKNOWN


def test_the_estimated_service_is_not_suggested_as_another_one():
    same = replace(PIECE, paid=Money(760), paid_service=PIECE.service)
    assert reason_for(same) is Reason.ZONE_OFF
