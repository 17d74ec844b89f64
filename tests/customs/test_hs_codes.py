"""HS codes: format, edition, suggestions."""

import pytest

from desk.customs.hs_codes import HsCodes
from desk.domain.finding import Severity


@pytest.mark.parametrize("code", ["482010", "4820.10", "4820.10.2010", " 48 20 10 ", "4820102010"])
def test_codes_of_the_edition_are_accepted_in_any_spelling(codes, code):
    assert codes.looked_at(code).ok


@pytest.mark.parametrize(
    ("code", "why"),
    [
        ("", "none"),
        ("-", "none"),
        ("4820", "too short"),
        ("48201x", "not digits"),
        ("4820102010123", "too long"),
        ("４８２０１０", "not digits"),
    ],
)
def test_a_code_in_another_format_counts_as_missing(codes, code, why):
    checked = codes.looked_at(code)
    assert (checked.ok, checked.code, checked.why) == (False, "hs-missing", why)


@pytest.mark.parametrize("code", ["999999", "442010", "123456", "970110"])
def test_codes_outside_the_edition_are_reported(codes, code):
    assert codes.looked_at(code).code == "hs-not-in-edition"
    assert codes.looked_at(code).why == "not in edition"


@pytest.mark.parametrize("edition", ["HS 2022", "HS2022", "hs-2022", ""])
def test_the_edition_is_recognized_in_any_spelling(codes, edition):
    assert codes.looked_at("482010", edition).ok


def test_a_code_of_another_edition_is_reported_even_if_its_digits_exist_here(codes):
    assert codes.looked_at("482010", "HS 2017").why == "other edition"


def test_findings_carry_item_and_code(codes):
    missing = codes.check("Notebook", "", "")
    assert (missing.code, missing.severity) == ("hs-missing", Severity.LOOK)
    assert missing.facts == {"item": "Notebook", "hs": "", "why": "none", "edition": "HS 2022"}
    other = codes.check("Notebook", "482010", "HS 2017")
    assert other.facts["edition"] == "HS 2017"
    assert other.source == "open table of HS 2022 (ODC-PDDL-1.0)"
    assert codes.check("Notebook", "482010") is None


def test_no_file_is_opened_before_it_is_needed(tmp_path):
    lazy = HsCodes.read(tmp_path / "nowhere")
    assert lazy.looked_at("4820").why == "too short"
    with pytest.raises(FileNotFoundError):
        lazy.looked_at("482010")


def test_every_phrase_has_a_code_of_the_edition(codes):
    assert len(codes.phrases) == 98
    assert [row.code for row in codes.phrases if not codes.looked_at(row.code).ok] == []


@pytest.mark.parametrize(
    ("text", "code"), [("Enamel pins", "711719"), ("wall calendar", "491000"), ("Tote bag, canvas", "420292")]
)
def test_the_code_that_shares_the_most_words_comes_first(codes, text, code):
    assert codes.suggest(text)[0].code == code


def test_a_word_in_no_heading_gives_no_hint(codes):
    assert codes.suggest("quixotry") == ()


def test_no_more_hints_than_requested(codes):
    assert [len(codes.suggest("wooden box", count)) for count in (1, 3)] == [1, 3]


def test_no_source_names_a_website(codes):
    assert [row.source for row in codes.phrases if ".com" in row.source or ".org" in row.source] == []


@pytest.mark.parametrize(("digits", "why"), [("48201", "too short"), ("482010", ""), ("482010101012", "")])
def test_a_code_has_six_to_twelve_digits(codes, digits, why):
    assert codes.looked_at(digits).why == why
