"""Export filing: which exemption, and when a filing is needed."""

import pytest

from desk.customs.export_filing import FilingPlace, check_itn, export_filing
from desk.domain.finding import Severity
from desk.domain.money import CurrencyMismatch, Money
from tests.customs.conftest import usd


def test_lines_of_one_code_add_up_however_it_is_written(destinations):
    answer = export_filing(FilingPlace("DE"), [("4820.10", usd("2000.00")), ("482010", usd("500.01"))], destinations)
    assert answer.citation == "ITN needed"
    (found,) = answer.findings
    assert (found.code, found.severity) == ("needs-export-filing", Severity.STOP)
    assert found.facts == {"hs": "482010", "value": "2500.01", "limit": "2500.00", "currency": "USD"}


def test_lines_without_a_code_count_as_one(destinations):
    lines = [("", usd("1500.00")), ("", usd("1500.00"))]
    assert export_filing(FilingPlace("DE"), lines, destinations).citation == "ITN needed"


def test_each_code_over_the_limit_is_reported(destinations):
    lines = [("482010", usd("3000.00")), ("491191", usd("3000.00")), ("490900", usd("1.00"))]
    found = export_filing(FilingPlace("DE"), lines, destinations).findings
    assert [each.facts["hs"] for each in found] == ["482010", "491191"]


def test_no_goods_need_no_filing(destinations):
    assert export_filing(FilingPlace("DE"), [], destinations).citation == "NOEEI 30.37(a)"


@pytest.mark.parametrize("country", ["US", "GU", "AS", "MP", "US-NY"])
def test_domestic_mail_needs_no_export_citation(destinations, country):
    assert export_filing(FilingPlace(country), [], destinations).citation == ""


def test_the_emirates_are_not_the_military_post_with_the_same_code(destinations):
    assert export_filing(FilingPlace("AE"), [], destinations).citation == "NOEEI 30.37(a)"
    assert export_filing(FilingPlace("US", "09012", "AE"), [], destinations).citation == ""


def test_barred_places_are_barred_at_any_value(destinations):
    answer = export_filing(FilingPlace("UA", "83000"), [("482010", usd("1.00"))], destinations)
    assert (answer.citation, [found.code for found in answer.findings]) == ("barred", ["destination-barred"])
    assert export_filing(FilingPlace("UA", "", "Kyiv"), [], destinations).citation == "NOEEI 30.37(a)"
    assert export_filing(FilingPlace("UA", "", "Donetsk"), [], destinations).citation == "barred"


def test_a_value_that_is_not_in_dollars_is_a_bug(destinations):
    with pytest.raises(CurrencyMismatch):
        export_filing(FilingPlace("DE"), [("482010", Money(1, "EUR"))], destinations)


@pytest.mark.parametrize(
    "text", ["X20190308366903", "x2019 0308 366903", "ITN X20190308366903", "ITN: X20190308366903"]
)
def test_a_transaction_number_is_read_in_every_spelling(text):
    assert check_itn(text).text == "X20190308366903"
    assert check_itn(text).ok


@pytest.mark.parametrize(
    ("text", "why"),
    [
        ("", "empty"),
        ("20190308366903", "no X"),
        ("X2019030836690", "shape"),
        ("X20191308366903", "date"),
        ("Y20190308366903", "shape"),
    ],
)
def test_a_refused_transaction_number_has_a_reason(text, why):
    checked = check_itn(text)
    assert (checked.ok, checked.code, checked.why) == (False, "itn-malformed", why)


@pytest.mark.parametrize("country", ["PR", "VI", "FM", "MH", "PW", "US-PR", "US-VI"])
@pytest.mark.parametrize(("value", "citation"), [("2500.00", "NOEEI 30.37(a)"), ("2500.01", "ITN needed")])
def test_some_places_of_domestic_mail_are_filed_like_exports(destinations, country, value, citation):
    """15 CFR 30.1; DMM 608.2.5: Puerto Rico, the Virgin Islands and the Freely Associated States."""
    assert export_filing(FilingPlace(country), [("482010", usd(value))], destinations).citation == citation


@pytest.mark.parametrize(
    ("unknown", "known", "stopped"), [("500.00", "0", False), ("500.01", "0", True), ("300.00", "1000.01", True)]
)
def test_an_unconverted_value_stops_only_where_it_could_exceed_the_limit(destinations, unknown, known, stopped):
    unsure = [("482010", Money.of(unknown, "CHF"), None)]
    found = export_filing(FilingPlace("DE"), [("482010", usd(known))], destinations, unsure=unsure)
    assert [one.code for one in found.findings] == (["value-not-compared"] if stopped else [])
    assert found.citation == ("" if stopped else "NOEEI 30.37(a)")


def test_unconverted_values_are_counted_for_each_code(destinations):
    unsure = [("482010", Money.of("300", "CHF"), None), ("490900", Money.of("300", "CHF"), None)]
    assert export_filing(FilingPlace("DE"), [], destinations, unsure=unsure).citation == "NOEEI 30.37(a)"


@pytest.mark.parametrize(
    "text", ["X20190308366903", "AES X20190308366903", "aes itn: x20190308366903", "AESX20190308366903"]
)
def test_a_filing_number_may_have_aes_before_it(text):
    assert check_itn(text).text == "X20190308366903"
    assert check_itn(text).ok
