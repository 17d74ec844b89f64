"""The days on which a package can be claimed. The limits are written out: 15 and 60 days (DMM 609.1.4, from memory)."""

from __future__ import annotations

from datetime import date, timedelta

import pytest

from desk.costs.claims import claim_days


def test_a_loss_is_claimed_from_day_15_to_day_60_both_included() -> None:
    days = claim_days(date(2026, 7, 12))
    assert (days.first, days.last) == (date(2026, 7, 27), date(2026, 9, 10))
    assert [days.is_open(date(2026, 7, day)) for day in (26, 27)] == [False, True]
    assert [days.is_open(date(2026, 9, day)) for day in (10, 11)] == [True, False]


@pytest.mark.parametrize(
    ("mailed", "last"),
    [
        (date(2026, 7, 12), date(2027, 1, 12)),
        (date(2026, 8, 31), date(2027, 2, 28)),  # February has no 31st
        (date(2027, 8, 31), date(2028, 2, 29)),
    ],
)
def test_a_package_abroad_can_be_claimed_for_six_months_from_the_day_after_mailing(mailed: date, last: date) -> None:
    """Universal Postal Convention, inquiries; from memory."""
    days = claim_days(mailed, abroad=True)
    assert (days.first, days.last) == (mailed + timedelta(days=1), last)
