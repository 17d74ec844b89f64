import ast
import csv
import string

import pytest

from desk.domain.finding import SEVERITIES, finding, reason
from desk.session.words.sentences import CATALOGUE, sentence, way_out
from desk.session.words.services import service_words
from tests.conftest import ROOT

LATER = {"swapped-with"}
ROW = {"unit": "oz", "effective": "2026-07-12", "currency": "USD", "chart": "us-2026-07-12"}


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
            "The list leaves open what is due for a tube or roll: $8.60, or $16.60.",
        ),
        (
            finding("over-service-limit", service="intl-package", limit="400.00", currency="USD", unit=""),
            "Package abroad, first class would be cheaper, and is out by its limit (400.00 USD).",
        ),
        (
            finding("no-service", tried="letter-stamped: under-size; flat: not-its-shape"),
            "No service takes it: letter, stamped (under size); large envelope (not its shape).",
        ),
        (finding("no-service", tried=""), "No service takes it: none is allowed for it."),
        (
            reason("row-used", **ROW, service="letter-stamped", up_to="2", price="1.11", keyed_by="", key=""),
            "Letter, stamped: $1.11 up to 2 oz, by the list of 12 July 2026.",
        ),
        (
            reason("row-used", **ROW, service="ground-retail", up_to="", price="99.00", keyed_by="zone", key="5"),
            "Ground parcel, counter price: $99.00 for an oversized parcel in zone 5, by the list of 12 July 2026.",
        ),
        (
            reason("surcharge-added", fee="long-22", amount="4.00", currency="USD"),
            "$4.00 more for a side over 22 in.",
        ),
        (
            reason("cheapest-of", count=2, next_service="flat", next_price="1.60", currency="USD"),
            "The cheapest of 2. Next: large envelope $1.60.",
        ),
        (reason("same-door", orders="1, 2", saved=""), "Orders 1, 2 go to one door."),
        (
            reason("same-door", orders="1, 2", saved="3.10", currency="USD"),
            "Orders 1, 2 go to one door. In one piece they save $3.10 of postage.",
        ),
        (
            reason("stamp-asked", order="7", note="Please send by stamp"),
            "The buyer of 7 asks for a stamp: \u201cPlease send by stamp\u201d.",
        ),
        (
            finding("destination-barred", country="CU", why="country"),
            "Goods may not be sent to Cuba without a licence.",
        ),
        (
            finding("destination-barred", country="UA", why="postal code"),
            "Goods may not be sent to that part of Ukraine without a licence.",
        ),
        (
            finding("tax-id-missing", kind="uk_vat", of="seller", country="GB"),
            "No UK VAT number of the seller for the United Kingdom.",
        ),
        (
            finding("postal-code-odd", postal_code="123", region="", country="FR", why="shape"),
            "The postal code 123 does not fit France (it is not written like one).",
        ),
        (
            finding("postal-code-odd", postal_code="10001", region="CA", country="US", why="state"),
            "The postal code 10001 does not fit CA (it is another state's).",
        ),
        (
            finding("postal-code-odd", postal_code="10001", region="BC", country="CA", why="shape"),
            "The postal code 10001 does not fit BC, Canada (it is not written like one).",
        ),
        (
            finding("form-may-be-needed", place="AP", military=True),
            "Domestic mail to the military post (AP), but a customs form may be asked for.",
        ),
        (
            finding("not-machinable", trait="stiff"),
            "A machine cannot sort it (it does not bend): the letter pays a surcharge.",
        ),
        (
            finding("destination-suspended", country="NL", alert_on="2026-05-01", alert_age_days=208),
            "The post took no such mail to the Netherlands by its alert of 1 May 2026, 208 days old.",
        ),
        (
            finding("chart-out-of-date", effective="2025-07-13", until="2026-01-17"),
            "The prices of 13 July 2025 were known to end on 17 January 2026; newer ones are not loaded.",
        ),
        (reason("surface-only", goods="battery"), "Batteries: by surface only."),
        (reason("not-its-shape", shape="flat"), "Not for a large envelope."),
        (reason("not-to-that-country", country="KP"), "Not offered to North Korea."),
        (
            finding("hs-missing", item="card", why="too short"),
            "card has no HS code of six digits (too few digits).",
        ),
        (
            finding("eu-duty", currency="EUR", amount="3.00", each="3.00", codes=1),
            "The buyer's side owes EUR 3.00 customs duty: 3.00 each for 1 HS code.",
        ),
    ],
)
def test_facts_in_words(found, expected):
    assert sentence(found) == expected


@pytest.mark.parametrize(
    ("lower", "higher", "form", "services", "expected"),
    [
        ("0.82", "1.11", False, ("letter-stamped", "letter-stamped"), "whether it costs $0.82 or $1.11."),
        ("0.82", "", False, ("letter-stamped", ""), "whether it goes for $0.82 or not at all."),
        ("5.00", "5.00", True, ("intl-flat", "intl-flat"), "whether it needs a customs form."),
        ("5.00", "5.00", False, ("flat", "media"), "whether it goes as large envelope or books and listed media."),
    ],
)
def test_what_a_step_leaves_open(lower, higher, form, services, expected):
    found = finding(
        "near-a-step",
        limit="1",
        limit_unit="oz",
        lower=lower,
        higher=higher,
        currency="USD",
        form=form,
        lower_service=services[0],
        higher_service=services[1],
    )
    assert sentence(found).endswith(expected)


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


def test_a_zone_without_a_sender_says_what_lacks():
    found = finding("zone-unknown", "", None, origin="", destination="500")
    assert sentence(found) == "No zone is known from your ZIP code, which Setup lacks, to 500."


def test_a_reading_too_close_to_call_names_all_four_ways_out():
    told = way_out(finding("too-close-to-call", shown="1.0", unit="oz", division="0.1", limit="1", limit_unit="oz"))
    for way in ("finer scale", "lighter envelope next time", "ten alike and divide (DMM 133.1.3)", "pay the step"):
        assert way in told
