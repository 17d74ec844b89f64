from __future__ import annotations

import pytest

from desk.intake.columns.amounts import NotRead, count
from desk.intake.orders.parsed_once import Remembered


def test_a_text_is_read_once() -> None:
    asked: list[str] = []

    def length(text: str) -> int:
        asked.append(text)
        return len(text)

    read = Remembered(length, {"": -1})
    assert [read[text] for text in ("ab", "", "abc", "ab", "")] == [2, -1, 3, 2, -1]
    assert asked == ["ab", "abc"]


def test_what_cannot_be_read_says_so_each_time() -> None:
    read = Remembered(count, {"": 1})
    for _ in range(2):
        with pytest.raises(NotRead, match="at least 1"):
            read["none"]
    assert (read[""], read["2.0"], dict(read)) == (1, 2, {"": 1, "2.0": 2})
