import ast
import csv
import string

import pytest

from desk.domain.finding import SEVERITIES, finding, reason
from desk.session.sentences import CATALOGUE, sentence, way_out
from desk.session.service_words import service_words
from tests.conftest import ROOT

LATER = {"swapped-with"}


def raised():
    """Every code that a rule gives as a literal to `finding` or `reason`, with the file it stands in."""
    for path in sorted((ROOT / "desk").rglob("*.py")):
        for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
            called = isinstance(node, ast.Call) and isinstance(node.func, ast.Name) and node.args
            if called and node.func.id in ("finding", "reason") and isinstance(node.args[0], ast.Constant):
                yield str(node.args[0].value), path.name


@pytest.mark.parametrize("code", sorted(set(SEVERITIES) - LATER))
def test_every_finding_is_put_into_words(code):
    assert CATALOGUE[code][0]


def test_every_code_that_a_rule_raises_is_put_into_words():
    codes = dict(raised())
    assert len(codes) > 60
    assert {code: file for code, file in codes.items() if code not in CATALOGUE} == {}


def test_a_stop_and_a_look_come_with_a_way_out():
    without = {code for code, weight in SEVERITIES.items() if weight in ("stop", "look") and code in CATALOGUE}
    assert {code for code in without if not CATALOGUE[code][1]} == set()


def test_every_sentence_ends_and_names_its_facts_by_name():
    for what, way in CATALOGUE.values():
        for text in filter(None, (what, way)):
            assert all(name != "" for _, name, _, _ in string.Formatter().parse(text) if name is not None)


def test_a_fact_that_is_missing_shows_as_a_dash():
    assert sentence(finding("mailer-unknown")) == "The shop has no mailer called \u2014."


def test_a_code_nobody_put_into_words_is_a_bug():
    with pytest.raises(KeyError):
        sentence(reason("never-heard-of"))


@pytest.mark.parametrize(
    ("found", "expected"),
    [
        (finding("address-incomplete", missing="city", country_typed=""), "The address lacks a city."),
        (
            finding("address-incomplete", missing="recipient, address1, country", country_typed="Atlantis"),
            "The address lacks a name, a street line and a country (nobody knows 'Atlantis').",
        ),
        (
            finding("address-too-long", part="address1", length=78, longest=50),
            "A street line is 78 characters long; a label's line holds 50.",
        ),
        (
            finding("fee-unclear", fees="tube", lower="8.60", higher="16.60", currency="USD"),
            "The list leaves open what tube adds: 8.60 USD, or 16.60.",
        ),
        (
            finding("over-service-limit", service="intl-package", limit="400.00", currency="USD", unit=""),
            "package abroad, first class would be cheaper, and is out by its limit (400.00 USD).",
        ),
        (
            finding("no-service", tried="letter-stamped: under-size; flat: not-its-shape"),
            "No service takes it: letter, stamped (under size); large envelope (not its shape).",
        ),
        (finding("no-service", tried=""), "No service takes it: none is allowed for it."),
        (
            finding("eu-duty", currency="EUR", amount="3.00", each="3.00", codes=1),
            "The buyer's side owes EUR 3.00 customs duty: 3.00 each for 1 HS code.",
        ),
    ],
)
def test_facts_in_words(found, expected):
    assert sentence(found) == expected


def test_a_way_out_names_the_service_in_words():
    assert way_out(finding("stamp-not-possible", service="ground-retail")).endswith("ground parcel, counter price.")


@pytest.mark.parametrize(
    ("service", "expected"),
    [
        ("letter-stamped", "letter, stamped"),
        ("priority-flat-small-box-retail", "priority flat-rate small box"),
        ("intl-priority-flat-envelope", "priority flat-rate envelope abroad"),
        ("rocket", "rocket"),
        ("", ""),
    ],
)
def test_services_in_words(service, expected):
    assert service_words(service) == expected


def test_every_service_of_the_price_lists_has_words(rulebook):
    assert {service for service in rulebook.charts.services() if service_words(service) == service} == {"postcard"}


def test_no_sentence_of_the_demo_lacks_a_fact(demo_out):
    with (demo_out / "findings.csv").open(encoding="utf-8") as file:
        rows = list(csv.DictReader(file))
    assert len(rows) > 100
    assert [row for row in rows if "\u2014" in row["message"] + row["fix"] or "{" in row["message"]] == []
