"""Ranking: rare words, whole phrases, earlier rulings, and when there is no match."""

import pytest

from desk.customs.hs_search import HsSearch

TEXTS = {
    "1001": "Kettles of copper",
    "100110": "Kettles; of copper, hammered",
    "100190": "Kettles; of copper, other",
    "100195": "Kettles; of copper, enameled",
    "2002": "Kettles of glass",
    "200210": "Kettles; of glass",
    "3003": "Rope",
    "300310": "Rope; of hemp",
}
PHRASES = [(["300310"], "tow line"), (["200210"], "teapot")]


def codes(text, count=5, rulings=()):
    return [match.code for match in HsSearch(TEXTS, PHRASES, rulings).find(text, count)]


def test_the_rarer_word_decides():
    assert codes("glass kettle")[0] == "200210"
    assert codes("hammered copper kettle")[0] == "100110"


def test_a_phrase_counts_by_its_last_word():
    assert codes("tow line") == ["300310"]
    assert codes("line") == ["300310"]
    assert codes("tow") == []


def test_at_most_two_codes_of_one_heading():
    assert len([code for code in codes("copper kettle") if code.startswith("1001")]) == 2


@pytest.mark.parametrize("count", [1, 2])
def test_no_more_than_asked_for(count):
    assert len(codes("copper kettle", count)) == count


def test_weak_words_alone_do_not_match():
    weak = HsSearch({**TEXTS, "4004": "Blue paint", "400410": "Paint; blue"}, PHRASES)
    assert weak.find("blue") == ()
    assert [match.code for match in weak.find("blue paint")] == ["400410"]
    assert "400410" not in [match.code for match in weak.find("blue copper kettle")]


def test_a_ruling_raises_its_code_but_is_no_match_alone():
    assert codes("copper kettle")[0] != "100195"
    assert codes("copper kettle", rulings=[("100195", "a copper kettle")] * 3)[0] == "100195"
    assert codes("samovar", rulings=[("100195", "a samovar")]) == []


def test_codes_outside_the_table_are_never_found():
    assert [match.code for match in HsSearch(TEXTS, [(["999999"], "widget")]).find("widget")] == []


def test_matched_words_are_the_typed_ones():
    (first, *_) = HsSearch(TEXTS, PHRASES).find("Teapots, big")
    assert (first.code, first.matched) == ("200210", ("teapots",))
