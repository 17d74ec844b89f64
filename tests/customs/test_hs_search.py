"""Ranking: rare words, whole phrases, earlier rulings, and when there is no match."""

import math
from collections import defaultdict

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


def test_a_ruling_ranks_its_code_higher_but_is_not_enough_for_a_match():
    assert codes("copper kettle")[0] != "100195"
    assert codes("copper kettle", rulings=[("100195", "a copper kettle")] * 3)[0] == "100195"
    assert codes("samovar", rulings=[("100195", "a samovar")]) == []


def test_codes_outside_the_table_are_never_found():
    assert [match.code for match in HsSearch(TEXTS, [(["999999"], "widget")]).find("widget")] == []


def test_matched_words_are_shown_as_they_were_typed():
    (first, *_) = HsSearch(TEXTS, PHRASES).find("Teapots, big")
    assert (first.code, first.matched) == ("200210", ("teapots",))


def test_scores_equal_the_published_formula():
    """BM25 (Robertson and Zaragoza 2009) with k1 = 1.2 and b = 0.75, by hand for this index of three headings."""
    search = HsSearch(TEXTS, [*PHRASES, (["100110", "200210"], "hammered jug")], [("200210", "glass bowl")])
    rare = {word: math.log(1 + 3 / (0.5 + among)) for word, among in {"rope": 1, "kettle": 2, "glass": 1}.items()}
    sizes = {"1001": 10, "2002": 4, "3003": 3}
    assert search._size == sizes
    found = defaultdict(float)
    search._by_text({"kettle": "kettle", "glass": "glass"}, found, defaultdict(set))

    def bm25(word, often, heading):
        size = 1.2 * (0.25 + 0.75 * sizes[heading] / (17 / 3))
        return 0.35 * rare[word] * often * 2.2 / (often + size)

    assert found["1001"] == pytest.approx(bm25("kettle", 4, "1001"), rel=1e-9)
    assert found["2002"] == pytest.approx(bm25("kettle", 2, "2002") + bm25("glass", 2, "2002"), rel=1e-9)


def test_headings_that_rulings_often_name_rank_higher_by_the_logarithm_of_their_count():
    search = HsSearch(TEXTS, PHRASES, [("200210", "bowl"), ("200210", "plate")])
    found = {"2002": 1.0, "1001": 1.0}
    search._by_rulings({}, found, {})
    assert found == {"2002": pytest.approx(1 + 0.1 * math.log(3)), "1001": 1.0}
    assert search._within("200210", {}, {"200210": 2.0}) == pytest.approx(0.5 * 2 + 0.3 * math.log(3))
