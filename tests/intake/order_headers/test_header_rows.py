"""What is read without asking is never wrong, and most columns need no question."""

from __future__ import annotations

import pytest

from tests.intake.order_headers.header_rows import HeaderRow, header_rows, judged

ALL = header_rows()
LEAST_RIGHT = 0.85


@pytest.mark.parametrize("row", ALL, ids=lambda row: f"{row.language}: {', '.join(row.header[:3])}")
def test_nothing_is_read_wrongly_without_asking(row: HeaderRow) -> None:
    assert judged(row)[2] == []


@pytest.mark.parametrize("language", ["English", "German", "French", "Spanish", "Mixed"])
def test_most_columns_of_a_language_are_read_without_asking(language: str) -> None:
    found = [judged(row) for row in ALL if row.language == language]
    right, asked = (sum(len(each[at]) for each in found) for at in (0, 1))
    assert right / (right + asked) >= LEAST_RIGHT


def test_the_tables_have_two_hundred_rows_in_four_languages() -> None:
    assert len(ALL) >= 200
    assert {row.language for row in ALL} == {"English", "German", "French", "Spanish", "Mixed"}
