"""What a group of the ledger is called."""

from __future__ import annotations

from datetime import UTC, datetime

import pytest

from desk.domain.ledger import GroupBy
from desk.session.money.group_words import group_words
from desk.session.words.figures import moment_in_words


@pytest.mark.parametrize(
    ("by", "group", "words"),
    [
        (GroupBy.MONTH, "2026-11", "November 2026"),
        (GroupBy.DAY, "2026-11-02", "Nov 2, 2026"),
        (GroupBy.COUNTRY, "FR", "France"),
        (GroupBy.COUNTRY, "QQ", "QQ"),
        (GroupBy.SERVICE, "ground-retail", "ground (retail)"),
        (GroupBy.STATE, "OR", "OR"),
        (GroupBy.STATE, "", "\u2014"),
        (GroupBy.YEAR, "2026", "2026"),
    ],
)
def test_groups_are_named_in_words(by: GroupBy, group: str, words: str) -> None:
    assert group_words(by, group) == words


def test_a_batch_is_named_by_the_local_time_of_its_hand_over() -> None:
    moment = datetime(2026, 11, 28, 21, 5, tzinfo=UTC)
    assert group_words(GroupBy.BATCH, moment.isoformat()) == moment_in_words(moment)
