from __future__ import annotations

import pytest

from desk.intake.columns.resemblance import resembling

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
def test_the_most_similar_is_first(text: str, expected: str) -> None:
    assert resembling(text, NAMES)[0] == expected


@pytest.mark.parametrize("text", ["Zeppelin", "", "Q", "§"])
def test_a_name_unlike_all_gives_no_suggestion(text: str) -> None:
    assert resembling(text, NAMES) == ()


def test_no_more_hints_than_requested() -> None:
    assert len(resembling("notebook", NAMES, most=1)) == 1
    assert resembling("notebook", ["", "Notebook", "Notebook"]) == ("Notebook",)


def test_a_similarity_of_seventy_percent_is_enough(monkeypatch: pytest.MonkeyPatch) -> None:
    from rapidfuzz import fuzz

    monkeypatch.setattr(fuzz, "token_set_ratio", lambda _text, name: {"a": 69.9, "b": 70.0, "c": 99.5}[name])
    monkeypatch.setattr(fuzz, "WRatio", lambda _text, _name: 0.0)
    assert resembling("text", ["a", "b", "c"]) == ("c", "b")
