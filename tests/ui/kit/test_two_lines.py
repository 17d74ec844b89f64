"""A text too wide for its cell goes on in a second line, and is cut only after that. One character is one pixel here."""

from __future__ import annotations

import pytest

from desk.ui.kit.two_lines import cut, in_two_lines


@pytest.mark.parametrize(
    ("width", "lines"),
    [
        (21, ("Bookplates, set of 25", "")),
        (20, ("Bookplates, set of", "25")),
        (17, ("Bookplates, set", "of 25")),
        (10, ("Bookplate…", "")),  # the first word alone is too wide
        (11, ("Bookplates,", "set of 25")),
    ],
)
def test_lines_break_at_a_space(width: int, lines: tuple[str, str]) -> None:
    assert in_two_lines("Bookplates, set of 25", width, len) == lines


@pytest.mark.parametrize("width", [10, 12, 13])
def test_a_quantity_stays_with_its_item(width: int) -> None:
    assert in_two_lines("card, 2 × bookmark", width, len) == ("card,", cut("2 × bookmark", width, len))


def test_only_the_second_line_is_cut() -> None:
    assert in_two_lines("Letterpress card fern, Letterpress bookmark", 16, len) == (
        "Letterpress card",
        "fern, Letterpre…",
    )


@pytest.mark.parametrize(("width", "left"), [(5, "heron"), (4, "her…"), (1, "…")])
def test_a_cut_text_ends_with_an_ellipsis_that_fits(width: int, left: str) -> None:
    assert cut("heron", width, len) == left


def test_there_is_no_space_before_the_ellipsis() -> None:
    assert cut("fern, plum", 7, len) == "fern,…"
