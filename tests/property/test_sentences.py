"""Sentences hold whatever facts they are given: no placeholder is left, no fact is changed, nothing breaks."""

from __future__ import annotations

import string

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from desk.domain.finding import SEVERITIES, Finding, Severity
from desk.session.words.sentences import CATALOGUE, sentence, way_out

# Any text without braces: a buyer's own braces would be shown as typed, and are looked at further down.
PLAIN = st.text(st.characters(exclude_characters="{}", exclude_categories=("Cs",)), min_size=1, max_size=30)
FACTS = st.one_of(PLAIN, st.integers(-(10**6), 10**6), st.booleans())
# Codes whose facts are sums, dates or names of fields that are put into words first; tests/session asks them one by one.
IN_WORDS = set(
    "address-incomplete cheapest-of destination-barred eu-duty fee-unclear near-a-step over-one-ounce "
    "over-service-limit row-used same-door surcharge-added tax-id-malformed tax-id-missing".split()
)
CODES = sorted(CATALOGUE.keys() - IN_WORDS)
WORDED_FACTS = {
    "where",
    "codes",
    "service",
    "next_service",
    "next_price",
    "part",
    "missing",
    "tried",
    "would_do",
    "higher",
    "origin",
}


def names(code: str) -> set[str]:
    """The facts its sentence and way out speak of."""
    parsed = (string.Formatter().parse(text) for text in CATALOGUE[code])
    return {name for parts in parsed for _, name, _, _ in parts if name}


def given_facts(code: str) -> set[str]:
    """Facts a rule hands in: those of the sentence, and those that are put into words first."""
    return names(code) | ({"would_do"} if code == "not-enough-stamps" else set())


@st.composite
def findings(draw: st.DrawFn, code: str) -> Finding:
    facts = {name: draw(FACTS) for name in sorted(given_facts(code))}
    return Finding(code, SEVERITIES.get(code, Severity.FINE), facts)


@pytest.mark.parametrize("code", CODES)
@settings(max_examples=8)
@given(draw=st.data())
def test_no_placeholder_is_left(code: str, draw: st.DataObject) -> None:
    found = draw.draw(findings(code))
    for text in (sentence(found), way_out(found)):
        assert "{" not in text
        assert "}" not in text
    assert sentence(found).strip()


@pytest.mark.parametrize("code", CODES)
@settings(max_examples=8)
@given(draw=st.data())
def test_every_fact_of_the_sentence_is_said(code: str, draw: st.DataObject) -> None:
    found = draw.draw(findings(code))
    whole = (sentence(found) + way_out(found)).casefold()  # a fact that begins a sentence has a capital letter
    for name in names(code) - WORDED_FACTS:
        if name in found.facts:
            assert str(found.facts[name]).casefold() in whole, name


@pytest.mark.parametrize("code", CODES)
@settings(max_examples=8)
@given(draw=st.data())
def test_saying_it_twice_says_the_same_and_leaves_the_facts_alone(code: str, draw: st.DataObject) -> None:
    found = draw.draw(findings(code))
    before = dict(found.facts)
    first = (sentence(found), way_out(found))
    assert (sentence(found), way_out(found)) == first
    assert dict(found.facts) == before


@pytest.mark.parametrize("code", sorted(SEVERITIES.keys() & set(CODES)))
@pytest.mark.parametrize(
    "typed", ["{}", "{0}", "{missing}", "{{", "}}", "%s", "{a.b}", "{x!r:>9}", "\\N{DASH}", "\x00"]
)
def test_signs_a_buyer_typed_are_shown_as_typed(code: str, typed: str) -> None:
    """A fact is never read as a pattern."""
    found = Finding(code, SEVERITIES[code], dict.fromkeys(given_facts(code), typed))
    said = sentence(found) + way_out(found)
    plain = names(code) - WORDED_FACTS
    assert not plain or typed in said


@given(st.lists(st.sampled_from(["recipient", "city", "region", "postal_code", "country"]), min_size=1, unique=True))
def test_all_missing_parts_are_named(missing: list[str]) -> None:
    words = {
        "recipient": "a name",
        "city": "a city",
        "region": "a state",
        "postal_code": "a postal code",
        "country": "a country",
    }
    found = Finding("address-incomplete", Severity.STOP, {"missing": ", ".join(missing), "country_typed": "Atlantis"})
    said = sentence(found)
    assert all(words[part] in said for part in missing)
    assert ("Atlantis" in said) == ("country" in missing)
