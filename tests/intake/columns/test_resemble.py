from __future__ import annotations

import pytest

from desk.intake.columns.resemble import resembling

NAMES = ("Pocket notebook", "Hand-bound notebook A5", "Letterpress card", "Bookplates, set of 25", "Bone folder")


@pytest.mark.parametrize(
    ("text", "expected"),
    [
        ("pocket notebook", "Pocket notebook"),
        ("Notebook, pocket", "Pocket notebook"),
        ("Letter press card", "Letterpress card"),
        ("Bone foldr", "Bone folder"),
        ("Bookplates (25)", "Bookplates, set of 25"),
    ],
)
def test_the_likest_stands_first(text: str, expected: str) -> None:
    assert resembling(text, NAMES)[0] == expected


@pytest.mark.parametrize("text", ["Zeppelin", "", "Q", "§"])
def test_what_is_like_nothing_gives_nothing(text: str) -> None:
    assert resembling(text, NAMES) == ()


def test_no_more_than_asked() -> None:
    assert len(resembling("notebook", NAMES, most=1)) == 1
    assert resembling("notebook", ["", "Notebook", "Notebook"]) == ("Notebook",)
