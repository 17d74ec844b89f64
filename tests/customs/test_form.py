"""Forms: each row of the table, and its limits."""

from decimal import Decimal

import pytest

from desk.customs.form import FormAnswer, at_home, form_for
from desk.domain.finding import Severity
from desk.domain.money import Money
from tests.customs.conftest import XDR, grams, usd
from tests.rates.chart_folder import shipped

SERVICE = shipped().service

HALF_KILO = grams("500")


def codes(answer: FormAnswer) -> list[str]:
    return [found.code for found in answer.findings]


def why(answer: FormAnswer) -> list[str]:
    return [each.code for each in answer.reasons]


@pytest.mark.parametrize("destination", ["US", "PR", "VI", "US-NY"])
def test_domestic_mail_needs_no_form(destination):
    answer = form_for(SERVICE("ground-retail"), usd("900.00"), HALF_KILO, destination, documents_only=False)
    assert (answer.form, codes(answer), why(answer)) == ("none", [], ["form-not-needed"])


@pytest.mark.parametrize("destination", ["US-AA", "US-AE", "US-AP", "US-GU", "GU", "AS", "MP", "PW", "FM", "MH"])
def test_military_and_island_addresses_may_need_a_form(destination):
    answer = form_for(SERVICE("ground-retail"), usd("9.00"), grams("30"), destination, documents_only=False)
    (found,) = answer.findings
    assert (answer.form, found.code, found.severity) == ("CN22", "form-may-be-needed", Severity.LOOK)
    assert found.facts == {"place": destination[-2:], "military": destination in ("US-AA", "US-AE", "US-AP")}


@pytest.mark.parametrize(("ounces", "expected"), [("15.9", []), ("16", ["form-may-be-needed"])])
def test_heavy_documents_to_the_military_may_need_a_form(ounces, expected):
    gross = grams(str(Decimal(ounces) * Decimal("28.349523125")))
    assert codes(form_for(SERVICE("flat"), usd("0.00"), gross, "US-AP", documents_only=True)) == expected


def test_the_emirates_are_abroad():
    assert not at_home("AE")
    assert form_for(SERVICE("intl-package"), usd("40.00"), HALF_KILO, "AE", documents_only=False).form == "CN22"


@pytest.mark.parametrize("service", ["intl-letter", "intl-flat", ""])
def test_light_documents_need_no_form(service):
    answer = form_for(SERVICE(service), usd("0.00"), grams("20"), "FR", documents_only=True)
    assert (answer.form, answer.reasons[0].facts["why"]) == ("none", "documents")


def test_unweighed_documents_need_no_form_yet():
    assert form_for(None, usd("0.00"), None, "FR", documents_only=True).form == "none"


@pytest.mark.parametrize(
    ("weight", "form"), [("453.59", "none"), ("453.59237", "CN22"), ("2000", "CN22"), ("2001", "CN23")]
)
def test_documents_of_a_pound_need_a_form(weight, form):
    assert form_for(SERVICE("intl-flat"), usd("0.00"), grams(weight), "FR", documents_only=True).form == form


def test_documents_in_a_packet_or_parcel_are_declared_like_the_rest():
    assert form_for(SERVICE("intl-package"), usd("0.00"), HALF_KILO, "FR", documents_only=True).form == "CN22"
    assert form_for(SERVICE("intl-priority"), usd("0.00"), HALF_KILO, "FR", documents_only=True).form == "CN23"
    assert (
        form_for(SERVICE("intl-priority-flat-envelope"), usd("0.00"), HALF_KILO, "FR", documents_only=True).form
        == "CN22"
    )


@pytest.mark.parametrize("service", ["intl-letter", "intl-flat"])
def test_goods_in_a_letter_are_stopped(service):
    answer = form_for(SERVICE(service), usd("5.00"), grams("20"), "FR", documents_only=False)
    assert (answer.form, codes(answer)) == ("CN22", ["goods-in-letter-abroad"])


def test_a_small_packet_needs_a_cn22_up_to_its_limit():
    assert form_for(SERVICE("intl-package"), usd("400.00"), HALF_KILO, "DE", documents_only=False).form == "CN22"
    over = form_for(SERVICE("intl-package"), usd("400.01"), HALF_KILO, "DE", False, XDR)
    assert (over.form, codes(over)) == ("CN22", ["over-service-limit"])  # 300 SDR are 411.83 that day
    assert over.findings[0].facts["limit"] == "400.00"


def test_a_packet_of_unknown_value_reports_what_was_not_tested():
    answer = form_for(SERVICE("intl-package"), None, HALF_KILO, "DE", documents_only=False)
    assert (answer.form, why(answer)) == ("CN22", ["form-by-service", "limit-untested"])


@pytest.mark.parametrize("service", ["intl-priority-flat-envelope", "intl-priority-flat-small-box"])
@pytest.mark.parametrize(
    ("value", "form", "edge"), [("399.99", "CN22", []), ("400.00", "CN23", ["form-edge"]), ("400.01", "CN23", [])]
)
def test_a_small_flat_rate_package_needs_the_larger_form_from_400_dollars(service, value, form, edge):
    answer = form_for(SERVICE(service), usd(value), HALF_KILO, "DE", documents_only=False)
    assert (answer.form, codes(answer)) == (form, edge)


def test_a_small_flat_rate_package_of_unknown_value_gets_the_larger_form():
    answer = form_for(SERVICE("intl-priority-flat-small-box"), None, HALF_KILO, "DE", documents_only=False)
    assert (answer.form, why(answer)) == ("CN23", ["limit-untested"])


@pytest.mark.parametrize("service", ["intl-priority", "intl-priority-flat-medium-box", "intl-priority-flat-large-box"])
def test_weighed_parcels_and_large_boxes_need_a_cn23(service):
    assert form_for(SERVICE(service), usd("1.00"), HALF_KILO, "DE", documents_only=False).form == "CN23"


@pytest.mark.parametrize(
    ("value", "form", "edge"),
    [("411.82", "CN22", []), ("411.83", "CN23", ["form-edge"]), ("411.84", "CN23", []), ("40.00", "CN22", [])],
)
def test_without_a_service_the_form_changes_at_300_sdr(value, form, edge):
    answer = form_for(None, usd(value), HALF_KILO, "DE", False, XDR)
    assert (answer.form, codes(answer), why(answer)) == (form, edge, ["form-by-value"])
    assert answer.reasons[0].facts["limit"] == "411.83"


@pytest.mark.parametrize(("value", "form"), [("399.99", "CN22"), ("400.00", "CN23")])
def test_without_a_rate_the_dollar_limit_is_used_and_reported(value, form):
    answer = form_for(None, usd(value), HALF_KILO, "DE", documents_only=False)
    assert (answer.form, why(answer)) == (form, ["form-by-value", "limit-untested"])
    assert answer.reasons[1].facts == {"limit": "300.00", "limit_currency": "XDR"}


@pytest.mark.parametrize(("weight", "form"), [("2000", "CN22"), ("2000.1", "CN23")])
def test_without_a_service_the_form_changes_at_two_kilograms(weight, form):
    assert form_for(None, usd("40.00"), grams(weight), "DE", False, XDR).form == form


def test_without_a_service_and_a_value_the_larger_form_is_used():
    answer = form_for(None, None, HALF_KILO, "DE", documents_only=False)
    assert (answer.form, why(answer)) == ("CN23", ["limit-untested"])


def test_the_form_of_an_unweighed_piece_is_decided_by_its_value():
    assert form_for(None, usd("40.00"), None, "DE", documents_only=False).form == "CN22"


def test_a_value_exactly_at_the_limit_is_noted_with_the_limit():
    edge = form_for(
        SERVICE("intl-priority-flat-small-box"), Money(400_00), HALF_KILO, "DE", documents_only=False
    ).findings[0]
    assert (edge.severity, edge.facts) == (Severity.NOTE, {"limit": "400.00", "currency": "USD"})


def test_documents_to_military_addresses_need_no_form_before_they_are_weighed():
    assert form_for(None, None, None, "US-AE", documents_only=True).form == "none"
    assert form_for(None, None, grams("500"), "US-AE", documents_only=True).form == "CN22"  # over 16 oz
