"""Sentences hold whatever facts they are given: no placeholder is left, no fact is changed, nothing breaks."""

from __future__ import annotations

import string

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from desk.domain.finding import Code, Finding, Severity
from desk.session.words.sentences import CATALOG, sentence, way_out

# Any text without braces: a buyer's own braces are tested further down.
PLAIN = st.text(st.characters(exclude_characters="{}", exclude_categories=("Cs",)), min_size=1, max_size=30)
COUNTS = {"codes", "orders"}  # numbers of things, which come as whole numbers
# Facts that are put into other words first; tests/session/words looks at those one by one.
WORDED = set(
    "where why codes service next_service next_price part missing tried would_do higher lower origin destination limit "
    "value amount each items orders paid postage refund charged spent cover extra price fee fees row following differs "
    "saved unit effective alert_on rate_on until kind place country trait words what".split()
)


def names(code: Code) -> set[str]:
    """Return the facts its sentences name."""
    parsed = (string.Formatter().parse(text) for text in CATALOG[code])
    return {name for parts in parsed for _, name, _, _ in parts if name}


@st.composite
def findings(draw: st.DrawFn, code: Code) -> Finding:
    facts = {
        name: draw(st.integers(0, 10**6) if name in COUNTS and code is not Code.SAME_DOOR else PLAIN)
        for name in sorted(code.facts)
    }
    return Finding(code, code.severity, facts)


@pytest.mark.parametrize("code", Code)
@settings(max_examples=8)
@given(draw=st.data())
def test_no_placeholder_is_left(code: Code, draw: st.DataObject) -> None:
    found = draw.draw(findings(code))
    for text in (sentence(found), way_out(found)):
        assert "{" not in text
        assert "}" not in text
    assert sentence(found).strip()


@pytest.mark.parametrize("code", Code)
@settings(max_examples=8)
@given(draw=st.data())
def test_a_sentence_contains_every_plain_fact(code: Code, draw: st.DataObject) -> None:
    found = draw.draw(findings(code))
    whole = (sentence(found) + way_out(found)).casefold()  # a fact that begins a sentence has a capital letter
    for name in (names(code) & code.facts) - WORDED:
        assert str(found.facts[name]).casefold() in whole, name


@pytest.mark.parametrize("code", Code)
@settings(max_examples=8)
@given(draw=st.data())
def test_making_a_sentence_does_not_change_the_facts(code: Code, draw: st.DataObject) -> None:
    found = draw.draw(findings(code))
    before = dict(found.facts)
    sentence(found), way_out(found)
    assert dict(found.facts) == before


@pytest.mark.parametrize("code", [code for code in Code if not code.facts & COUNTS])
@pytest.mark.parametrize(
    "typed", ["{}", "{0}", "{missing}", "{{", "}}", "%s", "{a.b}", "{x!r:>9}", "\\N{DASH}", "\x00"]
)
def test_characters_a_buyer_typed_are_shown_as_typed(code: Code, typed: str) -> None:
    """A fact is never read as a pattern."""
    found = Finding(code, code.severity, dict.fromkeys(code.facts, typed))
    plain = (names(code) & code.facts) - WORDED
    assert not plain or typed in sentence(found) + way_out(found)


@given(st.lists(st.sampled_from(["recipient", "city", "region", "postal_code", "country"]), min_size=1, unique=True))
def test_all_missing_parts_are_named(missing: list[str]) -> None:
    words = {
        "recipient": "a name",
        "city": "a city",
        "region": "a state",
        "postal_code": "a postal code",
        "country": "a country",
    }
    found = Finding(Code.ADDRESS_INCOMPLETE, Severity.STOP, {"missing": tuple(missing), "country_typed": "Atlantis"})
    text = sentence(found)
    assert all(words[part] in text for part in missing)
    assert ("Atlantis" in text) == ("country" in missing)
