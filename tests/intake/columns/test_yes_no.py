"""Yes and no are decided from all cells of a column."""

from __future__ import annotations

import pytest

from desk.intake.columns.amounts import NotRead
from desk.intake.columns.yes_no import YesNoColumn


@pytest.mark.parametrize(
    ("cells", "text", "expected"),
    [
        (["yes", "no", ""], "yes", True),
        (["Yes", "No"], "NO", False),
        (["1", "0", ""], "1", True),
        (["x", "", ""], "x", True),
        (["O", "N"], "O", True),  # French: oui, non
        (["S", "N"], "N", False),  # Spanish
        (["J", "N", "J"], "j", True),  # German
        (["vrai", "faux"], "faux", False),
        (["yes", "partly"], "yes", True),
        (["yes"], "", None),
    ],
)
def test_columns_of_yes_and_no_are_read_in_many_languages(cells: list[str], text: str, expected: bool | None) -> None:
    assert YesNoColumn.of(cells).read(text) is expected


@pytest.mark.parametrize(
    ("cells", "text"),
    [(["1", "2", "3"], "1"), (["N", "S", "E", "W"], "N"), (["yes", "maybe"], "maybe"), (["on", "Monday"], "on")],
)
def test_a_short_form_is_not_read_next_to_other_words(cells: list[str], text: str) -> None:
    column = YesNoColumn.of(cells)
    assert not column.is_yes(text)
    with pytest.raises(NotRead, match=r"^yes or no$"):
        column.read(text)
