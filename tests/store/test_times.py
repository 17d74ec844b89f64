"""Times as text: in UTC, equal when read back, and sorted as the times are."""

from __future__ import annotations

from datetime import UTC, datetime, timedelta, timezone

import pytest
from hypothesis import given
from hypothesis import strategies as st

from desk.store.times import from_utc_text, to_utc_text

NOON = datetime(2026, 7, 15, 12, 0, tzinfo=UTC)
MOMENTS = st.datetimes(timezones=st.sampled_from([UTC, timezone(timedelta(hours=-5))])).filter(
    lambda moment: 1 < moment.year < 9999  # outside these years the day in UTC does not exist in Python
)


@pytest.mark.parametrize(
    ("moment", "text"),
    [
        (NOON, "2026-07-15T12:00:00.000000+00:00"),
        (NOON.replace(microsecond=7), "2026-07-15T12:00:00.000007+00:00"),
        (NOON.astimezone(timezone(timedelta(hours=-5))), "2026-07-15T12:00:00.000000+00:00"),
        (datetime(2026, 1, 1, 0, 30, tzinfo=timezone(timedelta(hours=1))), "2025-12-31T23:30:00.000000+00:00"),
    ],
)
def test_a_moment_is_written_in_utc_to_the_microsecond(moment: datetime, text: str) -> None:
    assert to_utc_text(moment) == text


def test_a_time_without_a_zone_is_not_stored() -> None:
    with pytest.raises(ValueError, match="without a time zone"):
        to_utc_text(datetime(2026, 7, 15, 12, 0))  # noqa: DTZ001 - that is what is refused


def test_none_is_read_back_as_none() -> None:
    assert from_utc_text(None) is None


@pytest.mark.parametrize("text", ["", "noon", "2026-13-01T00:00:00+00:00"])
def test_a_text_that_is_not_a_time_is_refused(text: str) -> None:
    with pytest.raises(ValueError):  # noqa: PT011 - the words are Python's
        from_utc_text(text)


@given(MOMENTS, MOMENTS)
def test_texts_sort_as_the_times_do_and_are_read_back(one: datetime, other: datetime) -> None:
    texts = to_utc_text(one), to_utc_text(other)
    assert (texts[0] < texts[1]) == (one < other)
    assert from_utc_text(texts[0]) == one
