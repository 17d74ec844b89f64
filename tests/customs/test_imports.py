"""Imports: which number is sent, and the duty per code."""

from datetime import date
from decimal import Decimal

import pytest

from desk.customs.imports import buyer_number, duty, held_against, money, seller_number
from desk.domain.finding import Severity
from desk.domain.money import Money
from desk.domain.shop.shop import ExchangeRate
from tests.customs.conftest import EUR, TODAY, goods, usd

IOSS = {"ioss": "im 040 000 0000"}
NOK = ExchangeRate("USD", "NOK", Decimal(10), TODAY)


def eu_rule(destinations):
    return destinations.rule("DE", "seller-number", TODAY)


def test_the_tax_number_is_sent_up_to_the_limit(destinations):
    answer = seller_number(eu_rule(destinations), [goods()], IOSS, [EUR], TODAY)
    assert (answer.number, answer.findings, answer.reasons) == ("IM0400000000", (), ())


def test_without_an_exchange_rate_the_tax_number_is_sent_and_the_limit_is_reported(destinations):
    answer = seller_number(eu_rule(destinations), [goods()], IOSS, [], TODAY)
    assert answer.number == "IM0400000000"
    assert [(each.code, each.facts["limit"]) for each in answer.reasons] == [("limit-untested", "150.00")]


def test_above_the_limit_no_tax_number_is_sent_or_requested(destinations):
    for tax_ids in (IOSS, {}):
        answer = seller_number(eu_rule(destinations), [goods(value=usd("165.01"))], tax_ids, [EUR], TODAY)
        assert (answer.number, answer.findings) == ("", ())
        assert [each.code for each in answer.reasons] == ["outside-tax-scheme"]


def test_a_value_at_the_limit_is_within_it(destinations):
    assert seller_number(eu_rule(destinations), [goods(value=usd("165.00"))], IOSS, [EUR], TODAY).number != ""


def test_a_missing_tax_number_is_a_note(destinations):
    (found,) = seller_number(eu_rule(destinations), [goods()], {"ioss": " "}, [EUR], TODAY).findings
    assert (found.code, found.severity) == ("tax-id-missing", Severity.NOTE)
    assert (found.facts["kind"], found.facts["country"], found.facts["of"]) == ("ioss", "DE", "seller")
    assert (found.facts["rate_age_days"], found.facts["rate_stale"]) == (5, False)


def test_a_malformed_tax_number_is_reported_and_not_sent(destinations):
    answer = seller_number(eu_rule(destinations), [goods()], {"ioss": "IM123"}, [EUR], TODAY)
    (found,) = answer.findings
    assert (answer.number, found.code, found.severity) == ("", "tax-id-malformed", Severity.LOOK)
    assert found.facts == {"kind": "ioss", "why": "length", "typed": "IM123"}


@pytest.mark.parametrize(
    ("quantity", "value", "number"),
    [(2, "598.00", "0000000"), (2, "600.00", ""), (1, "299.99", "0000000"), (1, "300.00", "")],
)
def test_norway_counts_each_item_and_the_limit_itself_is_too_much(destinations, quantity, value, number):
    rule = destinations.rule("NO", "seller-number", TODAY)
    line = goods(quantity=quantity, value=usd(value))
    assert seller_number(rule, [line], {"voec": "0000000"}, [NOK], TODAY).number == number


def test_a_shop_below_the_threshold_is_not_asked_to_register(destinations):
    rule = destinations.rule("AU", "seller-number-if-registered", TODAY)
    assert seller_number(rule, [goods()], {}, [], TODAY).findings == ()
    assert seller_number(rule, [goods()], {"au_arn": "83 914 571 673"}, [], TODAY).number == "83914571673"


def test_the_tax_number_of_the_buyer_must_be_requested(destinations):
    rule = destinations.rule("BR", "buyer-number", TODAY)
    found = buyer_number(rule, "")
    assert (found.code, found.facts) == ("buyer-id-missing", {"kind": "cpf or cnpj", "country": "BR"})
    assert buyer_number(rule, "390.533.447-05") is None  # python-stdnum's own example
    assert buyer_number(rule, "390.533.447-06").code == "tax-id-malformed"


def test_duty_counts_six_digits_of_longer_codes_once(destinations):
    rule = destinations.rule("FR", "duty-per-code", TODAY)
    assert duty(rule, [goods(hs="4820.10.10"), goods(hs="48201090")], [EUR], TODAY).facts["codes"] == 1
    assert duty(rule, [goods(hs="482010"), goods(hs="482020")], [EUR], TODAY).facts["codes"] == 2


def test_duty_counts_distinct_codes(destinations):
    rule = destinations.rule("FR", "duty-per-code", TODAY)
    lines = [goods(hs="4820.10", quantity=5), goods(hs="482010"), goods(hs="4911.91.20")]
    found = duty(rule, lines, [EUR], TODAY)
    assert (found.code, found.severity) == ("eu-duty", Severity.NOTE)
    assert (found.facts["codes"], found.facts["amount"], found.facts["currency"], found.facts["tested"]) == (
        2,
        "6.00",
        "EUR",
        True,
    )


def test_duty_counts_each_wording_without_a_code(destinations):
    rule = destinations.rule("FR", "duty-per-code", TODAY)
    assert duty(rule, [goods(hs="", words="A"), goods(hs="", words="B")], [], TODAY).facts["codes"] == 2


def test_duty_without_a_rate_is_reported_as_untested(destinations):
    found = duty(destinations.rule("FR", "duty-per-code", TODAY), [goods()], [], TODAY)
    assert (found.facts["tested"], found.facts["limit"], found.facts["limit_currency"]) == (False, "150.00", "EUR")


def test_duty_ends_above_the_limit(destinations):
    rule = destinations.rule("FR", "duty-per-code", TODAY)
    assert duty(rule, [goods(value=Money.of("150.00", "EUR"))], [], TODAY) is not None
    assert duty(rule, [goods(value=Money.of("150.01", "EUR"))], [], TODAY) is None


def test_an_old_rate_is_reported():
    held = held_against(usd("10.00"), money("EUR 150"), [EUR], date(2026, 12, 21))
    assert (held.within, held.facts["rate_age_days"], held.facts["rate_stale"]) == (True, 31, True)
