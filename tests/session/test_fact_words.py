from datetime import date

import pytest

from desk.session.fact_words import day_in_words, fees_in_words, sum_in_words, tax_number_in_words


@pytest.mark.parametrize(
    ("day", "expected"),
    [
        (date(2026, 7, 12), "12 July 2026"),
        (date(2026, 1, 1), "1 January 2026"),
        (date(2024, 12, 31), "31 December 2024"),
    ],
)
def test_a_day_in_words(day, expected):
    assert day_in_words(day) == expected


def test_sums_say_their_money():
    assert sum_in_words("1.11", "USD") == "$1.11"
    assert sum_in_words("1.11", "CAD") == "1.11 CAD"


def test_fees_and_numbers_are_named():
    assert fees_in_words("long-22+tube") == "a side over 22 in and a tube or roll"
    assert fees_in_words("new-fee") == "new-fee"
    assert tax_number_in_words("uk_vat") == "UK VAT"
    assert tax_number_in_words("zz") == "zz"


def test_every_fee_and_tax_number_of_the_tables_has_words(rulebook):
    fees = {fee.code for lists in rulebook.charts.lists.values() for chart in lists for fee in chart.surcharges}
    assert {code for code in fees if fees_in_words(code) == code} == set()
    rules = [rule for rows in rulebook.destinations.by_place.values() for rule in rows]
    kinds = {rule.value.split("|")[0] for rule in rules if rule.rule.startswith(("seller-number", "buyer-number"))}
    assert {kind for kind in kinds if tax_number_in_words(kind) == kind} == set()
