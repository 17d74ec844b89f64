"""Every code has its sentences, every fact they name is a fact of the code, and a person has read them all."""

from __future__ import annotations

import ast
import csv
import os
import re
import string

import pytest

from desk.domain.finding import Code, Finding, Severity, finding, reason
from desk.session.words.issue_names import issue_heading
from desk.session.words.sentences import CATALOG, sentence, shown_source, way_out
from tests.conftest import ROOT
from tests.session.words.samples import SAMPLES

PAGE = ROOT / "tests" / "golden" / "sentences.txt"


def test_every_code_has_sentences():
    assert set(CATALOG) == set(Code)


def test_stops_and_issues_to_check_say_what_to_do():
    serious = {code for code in Code if code.severity in (Severity.STOP, Severity.LOOK)}
    assert {code for code in serious if not CATALOG[code][1]} == set()


def test_every_code_has_a_sample_on_the_page():
    assert {found.code for found in SAMPLES} == set(Code)


def test_the_page_of_all_sentences_equals_the_approved_one():
    """After a change you mean, run with UPDATE_GOLDEN=1, read the page aloud, and commit it."""
    lines = []
    for found in SAMPLES:
        lines.append(f"{found.code} ({found.severity}): {sentence(found)}")
        if todo := way_out(found):
            lines.append(f"    {todo}")
    lines += ["", "Short names", *(f"{code}: {issue_heading(code)}" for code in Code)]
    page = "\n".join(lines) + "\n"
    if os.environ.get("UPDATE_GOLDEN"):
        PAGE.write_text(page, encoding="utf-8")
    assert page.splitlines() == PAGE.read_text(encoding="utf-8").splitlines()


def test_a_misspelled_fact_is_a_bug():
    with pytest.raises(TypeError, match="mialer"):
        finding(Code.MAILER_UNKNOWN, mialer="Sack")


def test_a_fact_left_out_is_a_bug():
    with pytest.raises(TypeError, match="untracked: facts service"):
        finding(Code.UNTRACKED)


def test_an_optional_fact_may_be_left_out():
    assert reason(Code.SAME_DOOR, orders="1, 2", saved="").facts == {"orders": "1, 2", "saved": ""}


def test_a_fact_an_older_version_did_not_store_shows_as_a_dash():
    stored = Finding(Code.POSTAL_CODE_MENDED, Severity.NOTE, {"found": "2906", "corrected": "02906"})
    assert sentence(stored) == "Postal code corrected from \u2014 to 02906."


def calls():
    """Yield every call of `finding` and `reason` with a code in `desk`: where, the code, its facts, and if it has `**`."""
    for path in sorted((ROOT / "desk").rglob("*.py")):
        for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
            if not (isinstance(node, ast.Call) and isinstance(node.func, ast.Name) and node.args):
                continue
            code = node.args[0]
            if node.func.id in ("finding", "reason") and isinstance(code, ast.Attribute):
                names = {each.arg for each in node.keywords if each.arg} - {"source", "severity"}
                spread = any(each.arg is None for each in node.keywords)
                yield f"{path.name}:{node.lineno}", Code[code.attr], names, spread


def test_every_rule_gives_exactly_the_facts_of_its_code():
    made = list(calls())
    assert len(made) > 90
    wrong = [
        (place, str(code), names)
        for place, code, names, spread in made
        if not names <= code.facts or not (spread or code.required <= names)
    ]
    assert wrong == []


@pytest.mark.parametrize("code", sorted(Code))
def test_no_sentence_names_an_unnamed_or_formatted_fact(code):
    for text in CATALOG[code]:
        for _, name, spec, conversion in string.Formatter().parse(text):
            assert name is None or (name.isidentifier() and not spec and not conversion)


def test_no_sentence_of_the_demo_has_a_gap(demo_out):
    with (demo_out / "findings.csv").open(encoding="utf-8") as file:
        rows = list(csv.DictReader(file))
    assert len(rows) > 100
    assert [row for row in rows if "\u2014" in row["message"] + row["fix"] or "{" in row["message"]] == []


@pytest.mark.parametrize(
    ("country", "region", "words"),
    [("US", "NE", "(NE)"), ("CA", "BC", "(BC, Canada)"), ("FR", "", "(France)"), ("US", "", "(United States)")],
)
def test_a_destination_is_the_state_in_the_us_and_the_country_abroad(country, region, words):
    odd = finding(Code.POSTAL_CODE_ODD, postal_code="1", why="shape", country=country, region=region)
    assert words.strip("()") in sentence(odd)
    assert ("United States" in sentence(odd)) is ("United States" in words)


@pytest.mark.parametrize(
    ("source", "shown"),
    [
        ("DMM 101.1.1", "DMM 101.1.1"),
        ("common practice", ""),
        ("open table of HS 2022 (ODC-PDDL-1.0)", "HS 2022"),
        ("your rules in Setup > Rules", "Your rules in Setup > Rules"),
    ],
)
def test_screens_name_documents_only(source, shown):
    assert shown_source(finding(Code.NO_ORDER, source, order="7")) == shown


def test_a_decimal_comma_is_in_measures_and_sums_but_not_in_names(locale):
    locale("de_DE.UTF-8")
    small = finding(
        Code.MAILER_TOO_SMALL, product="Size 1.5 in card", contents_in="0.70", outside_in="0.30", measure=""
    )
    assert sentence(small) == "Size 1.5 in card is 0,70 in thick, but the piece is listed at 0,30 in."
    odd = {
        text
        for found in SAMPLES
        for text in (sentence(found), way_out(found))
        if re.search(r"\d\.\d(?!\d\d,\d\d)", text.replace("133.1.3", ""))
    }
    assert odd == {
        "“Pocket notebook”: quantity times price is 25,00 $, but the list says $20.00."
    }  # as its file has it
