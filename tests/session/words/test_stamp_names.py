"""Stamps are named as people call them, with the face value of those that have one."""

import pytest

from desk.domain.money import Money
from desk.domain.shop.stamp import StampKind
from desk.rates.stamps.stamps import StampCount
from desk.session.words.stamp_names import counts_for, name_of_stamp, stamp_counts


@pytest.mark.parametrize(
    ("kind", "value", "words", "drawn"),
    [
        (StampKind.FOREVER, None, "Forever", "1"),
        (StampKind.GLOBAL_FOREVER, None, "Global Forever", "globe"),
        (StampKind.ADDITIONAL_OUNCE, None, "additional ounce", "+1"),
        (StampKind.TWO_OUNCE, None, "two-ounce", "2"),
        (StampKind.FACE, Money(5), "$0.05", "$0.05"),
        (StampKind.FACE, Money(110, "EUR"), "EUR 1.10", "EUR 1.10"),
        (StampKind.FACE, None, "face value", ""),
    ],
)
def test_a_stamp_has_its_common_name(kind, value, words, drawn):
    assert name_of_stamp(kind, value) == words
    assert counts_for(kind, value) == drawn


def test_counted_stamps_include_their_face_value():
    stamps = [StampCount(StampKind.FOREVER, None, 2), StampCount(StampKind.FACE, Money(10), 3)]
    assert stamp_counts(stamps) == "2 Forever, 3 of $0.10"
