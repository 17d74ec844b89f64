from __future__ import annotations

from datetime import date
from decimal import Decimal

import pytest

from desk.domain.money import Money
from desk.intake.columns.amounts import (
    NotRead,
    ReadsTwoWays,
    count,
    currency_code,
    day,
    money,
    number,
    whole_number,
    written_currency,
)


@pytest.mark.parametrize(
    ("text", "expected"),
    [
        ("4.2", "4.2"),
        ("4.20", "4.20"),
        (".5", "0.5"),
        ("5.", "5"),
        ("-3", "-3"),
        ("+3", "3"),
        ("\u22123", "-3"),
        ("1.234", "1.234"),
        ("3,2", "3.2"),
        ("0,125", "0.125"),
        ("12,3456", "12.3456"),
        ("1,234.5", "1234.5"),
        ("1.234,5", "1234.5"),
        ("1,234,567", "1234567"),
        ("1.234.567", "1234567"),
        ("1,234,567.89", "1234567.89"),
        ("1 234,50", "1234.50"),
        ("1\u202f234", "1234"),
        ("1'234.50", "1234.50"),
        ("1’234", "1234"),
        ("007", "7"),
    ],
)
def test_numbers_are_read_in_every_usual_spelling(text: str, expected: str) -> None:
    assert str(number(text)) == str(Decimal(expected))


@pytest.mark.parametrize(
    ("text", "expected"),
    [
        ("1,234", "a number that reads one way: 1234 or 1.234"),
        ("1,234.567.8", "a number such as 1,234.50, with one kind of mark between thousands"),
        ("1,234.567,8", "a number such as 1,234.50, with one kind of mark between thousands"),
        ("1,234,56", "a number such as 1,234.50, with one kind of mark between thousands"),
        ("0,123,456", "a number such as 1,234.50, without a zero in front"),
        ("1e5", "a number such as 12.50"),
        ("NaN", "a number such as 12.50"),
        ("Infinity", "a number such as 12.50"),
        ("twelve", "a number such as 12.50"),
        ("", "a number such as 12.50"),
        ("1/2", "a number such as 12.50"),
        ("٣", "a number such as 12.50"),
        ("1" * 19, "a number of at most 18 digits"),
    ],
)
def test_a_text_that_is_not_a_number_is_refused(text: str, expected: str) -> None:
    with pytest.raises(NotRead) as caught:
        number(text)
    assert str(caught.value) == expected


@pytest.mark.parametrize(
    ("text", "currency", "minor"),
    [
        ("12.50", "USD", 1250),
        ("12.5", "USD", 1250),
        ("12", "USD", 1200),
        ("$12.50", "USD", 1250),
        ("$ 12.50", "CAD", 1250),
        ("US$12.50", "USD", 1250),
        ("12.50 USD", "USD", 1250),
        ("usd 12.50", "USD", 1250),
        ("12,50 €", "EUR", 1250),
        ("€12,50", "EUR", 1250),
        ("£0.99", "GBP", 99),
        ("1,234.50", "USD", 123450),
        ("1.234,50", "EUR", 123450),
        ("1 234,50\u00a0€", "EUR", 123450),
        ("-5.00", "USD", -500),
        ("-$5.00", "USD", -500),
        ("$-5.00", "USD", -500),
        ("0.00", "USD", 0),
        ("12.5000", "USD", 1250),
        ("1,234", "JPY", 1234),
        ("1.234", "JPY", 1234),
        ("¥1200", "JPY", 1200),
        ("0.125", "KWD", 125),
        ("12.3456", "CLF", None),
    ],
)
def test_amounts_are_read_in_minor_units(text: str, currency: str, minor: int | None) -> None:
    if minor is None:
        with pytest.raises(NotRead):
            money(text, currency)
    else:
        assert money(text, currency) == Money(minor, currency)


@pytest.mark.parametrize(
    ("text", "currency", "expected"),
    [
        ("1,234", "USD", "an amount that reads one way: 1234 or 1.234"),
        ("1.234", "USD", "an amount that reads one way: 1234 or 1.234"),
        ("12.505", "USD", "an amount that reads one way: 12505 or 12.505"),
        ("0.125", "USD", "an amount of USD such as 12.50"),
        ("12.50", "JPY", "an amount of JPY such as 1200"),
        ("12.50 EUR", "USD", "an amount of USD, the currency of this order"),
        ("$12.50", "EUR", "an amount of EUR, the currency of this order"),
        ("12.50 ea", "USD", "an amount of USD such as 12.50"),
        ("1,23,456", "USD", "an amount of USD such as 12.50"),
        (".", "USD", "an amount of USD such as 12.50"),
        ("9" * 19, "USD", "an amount of USD of at most 18 digits"),
    ],
)
def test_a_text_that_is_not_an_amount_is_refused(text: str, currency: str, expected: str) -> None:
    with pytest.raises(NotRead) as caught:
        money(text, currency)
    assert str(caught.value) == expected


@pytest.mark.parametrize(("text", "expected"), [("USD", "USD"), (" eur ", "EUR"), ("€", "EUR"), ("US$", "USD")])
def test_currency_codes_are_read_in_either_case(text: str, expected: str) -> None:
    assert currency_code(text) == expected


@pytest.mark.parametrize("text", ["", "$", "dollars", "XXX", "U$D", "XDR"])
def test_a_text_that_is_not_a_currency_code_is_refused(text: str) -> None:
    with pytest.raises(NotRead, match=r"^an ISO 4217 currency code such as USD$"):
        currency_code(text)


@pytest.mark.parametrize(("text", "expected"), [("1", 1), ("12", 12), ("2.0", 2), ("100000", 100_000)])
def test_counts_are_read(text: str, expected: int) -> None:
    assert count(text) == expected


@pytest.mark.parametrize("text", ["0", "-1", "1.5", "two", "1,000"])
def test_a_text_that_is_not_a_count_is_refused(text: str) -> None:
    with pytest.raises(NotRead, match=r"^a whole number of at least 1$"):
        count(text)


@pytest.mark.parametrize(
    "text",
    [
        "2026-11-25",
        "2026/11/25",
        "2026-11-25T10:30:00Z",
        "2026-11-25 10:30",
        "2026-11-25 10:30:00 +0000",
        "2026-11-25T10:30:00.123-05:00",
        "25 Nov 2026",
        "25-Nov-2026",
        "25. November 2026",
        "25th November, 2026",
        "Nov 25, 2026",
        "November 25th 2026",
        "Nov. 25 2026",
        "25 novembre 2026",
        "25 de noviembre de 2026",
        "11/25/2026",
        "25/11/2026",
        "25.11.2026",
        "11/25/2026 10:30 AM",
        "25.11.2026, 10:30",
    ],
)
def test_a_date_is_read_in_many_formats(text: str) -> None:
    assert day(text) == date(2026, 11, 25)


@pytest.mark.parametrize(
    ("text", "expected"),
    [("04/04/2026", date(2026, 4, 4)), ("3. März 2026", date(2026, 3, 3)), ("1er août 2026", date(2026, 8, 1))],
)
def test_unambiguous_dates_are_read(text: str, expected: date) -> None:
    assert day(text) == expected


@pytest.mark.parametrize(
    ("text", "expected"),
    [
        ("03/04/2026", "a date that reads one way: 2026-03-04 or 2026-04-03"),
        ("03.04.2026", "a date that reads one way: 2026-03-04 or 2026-04-03"),
        ("2026-02-30", "a date that exists, such as 2026-11-25"),
        ("31/31/2026", "a date that exists, such as 2026-11-25"),
        ("25 Nvo 2026", "a date such as 2026-11-25"),
        ("Nvo 25 2026", "a date such as 2026-11-25"),
        ("46351", "a date such as 2026-11-25"),
        ("yesterday", "a date such as 2026-11-25"),
        ("2026-11", "a date such as 2026-11-25"),
    ],
)
def test_a_text_that_is_not_a_date_is_refused(text: str, expected: str) -> None:
    with pytest.raises(NotRead) as caught:
        day(text)
    assert str(caught.value) == expected


@pytest.mark.parametrize(
    ("text", "currency", "decimal", "expected"),
    [
        ("1.250", "USD", ".", 125),
        ("1.250", "USD", ",", 125_000),
        ("1,250", "EUR", ",", 125),
        ("1,250", "EUR", ".", 125_000),
        ("-1.250", "EUR", ",", -125_000),
        ("1.250", "JPY", ".", 1250),
        ("12.50", "USD", ",", 1250),  # an unambiguous value is not reinterpreted
        ("1.234,50", "USD", ".", 123_450),
    ],
)
def test_a_format_decides_an_ambiguous_amount(text: str, currency: str, decimal: str, expected: int) -> None:
    assert money(text, currency, decimal) == Money(expected, currency)


@pytest.mark.parametrize(
    ("text", "first", "expected"),
    [
        ("03/04/2026", "day", date(2026, 4, 3)),
        ("03/04/2026", "month", date(2026, 3, 4)),
        ("25.04.2026", "month", date(2026, 4, 25)),
        ("2026-04-03", "month", date(2026, 4, 3)),
        ("04/04/2026", "", date(2026, 4, 4)),
    ],
)
def test_a_format_decides_an_ambiguous_date(text: str, first: str, expected: date) -> None:
    assert day(text, first) == expected


def test_an_ambiguous_value_is_refused_with_both_readings() -> None:
    with pytest.raises(ReadsTwoWays) as caught:
        day("03/04/2026")
    assert caught.value.readings == {"month": "2026-03-04", "day": "2026-04-03"}
    with pytest.raises(ReadsTwoWays) as caught:
        money("1.250", "USD")
    assert caught.value.readings == {",": "1250", ".": "1.25"}


@pytest.mark.parametrize(
    ("text", "minor"),
    [
        ("(12.50)", -1250), ("3.00-", -300), ("-$3", -300), ("$-3.00", -300), ("free", 0), ("Kostenlos", 0),
        ("$12.50 USD", 1250), ("12.500000001", 1250), ("12.4949999999", 1249), ("9,999,999.99", 999_999_999),
        ("10000000", 1_000_000_000),
    ],
)  # fmt: skip
def test_amounts_as_bookkeepers_and_spreadsheets_write_them(text: str, minor: int) -> None:
    assert money(text, "USD") == Money(minor)


@pytest.mark.parametrize("text", ["10000000.01", "9999999999", "12.345678", "12.50 EUR", "$5 EUR"])
def test_absurd_amounts_and_those_in_other_currencies_are_refused(text: str) -> None:
    with pytest.raises(NotRead):
        money(text, "USD")


@pytest.mark.parametrize(("text", "expected"), [("0", 0), ("-2", -2), ("100000", 100_000), ("-100000", -100_000)])
def test_a_quantity_is_a_whole_number(text: str, expected: int) -> None:
    assert whole_number(text) == expected


@pytest.mark.parametrize("text", ["100001", "-100001", "0.5", "two", "1e3", "1_0"])
def test_a_quantity_that_is_not_a_whole_number_is_refused(text: str) -> None:
    with pytest.raises(NotRead):
        whole_number(text)


@pytest.mark.parametrize(
    ("text", "code"), [("12 €", "EUR"), ("US$ 5", "USD"), ("$5", ""), ("12.50", ""), ("12.50 chf", "CHF"), ("kr 5", "")]
)
def test_the_currency_an_amount_is_written_with(text: str, code: str) -> None:
    assert written_currency(text) == code


@pytest.mark.parametrize(
    ("text", "expected"),
    [
        ("11/25/26", date(2026, 11, 25)),
        ("25.11.26", date(2026, 11, 25)),
        ("20261125", date(2026, 11, 25)),
        ("2/24/2003 0:00", date(2003, 2, 24)),
    ],
)
def test_dates_with_two_digit_years_without_separators_and_with_a_time(text: str, expected: date) -> None:
    assert day(text) == expected


@pytest.mark.parametrize(
    ("text", "whole"),
    [("0", 0), ("-1", -1), ("1", 1), ("2.0", 2), ("100000", 100_000), ("-100000", -100_000)],
)
def test_the_largest_whole_number_is_read(text: str, whole: int) -> None:
    assert whole_number(text) == whole


@pytest.mark.parametrize("text", ["2.5", "100001", "-100001", "two"])
def test_a_fraction_or_a_larger_number_is_not_a_whole_number(text: str) -> None:
    with pytest.raises(NotRead):
        whole_number(text)


@pytest.mark.parametrize(("text", "can_be_read"), [("10000000", True), ("10000000.01", False)])
def test_an_amount_has_a_maximum(text: str, can_be_read: bool) -> None:
    if can_be_read:
        assert money(text, "USD").amount == 10_000_000
    else:
        with pytest.raises(NotRead, match="at most"):
            money(text, "USD")


@pytest.mark.parametrize(("digits", "can_be_read"), [(18, True), (19, False)])
def test_a_number_has_at_most_eighteen_digits(digits: int, can_be_read: bool) -> None:
    text = "0." + "1" * (digits - 1)
    if can_be_read:
        assert number(text) == Decimal(text)
    else:
        with pytest.raises(NotRead, match="18 digits"):
            number(text)


@pytest.mark.parametrize(
    ("text", "read"),
    [
        ("12/12/2026", date(2026, 12, 12)),
        ("12/13/2026", date(2026, 12, 13)),
        ("13/12/2026", date(2026, 12, 13)),
        ("11/12/2026", None),
        ("12/11/2026", None),
        ("01/01/26", date(2026, 1, 1)),
    ],
)
def test_a_number_above_twelve_is_the_day_and_not_the_month(text: str, read: date | None) -> None:
    if read is None:
        with pytest.raises(ReadsTwoWays):
            day(text)
    else:
        assert day(text) == read


@pytest.mark.parametrize(
    ("text", "month"),
    [  # names and short names: CLDR; the last three: from memory
        ("3 Jänner 2026", 1),
        ("3. Jan. 2026", 1),
        ("3 févr. 2026", 2),
        ("3. März 2026", 3),
        ("May 3, 2026", 5),
        ("3 de agosto de 2026", 8),
        ("3 sept 2026", 9),
        ("3 dic 2026", 12),
        ("3 fev 2026", 2),
        ("3 Maerz 2026", 3),
        ("3. Sep 2026", 9),
    ],
)
def test_months_are_read_by_their_names_in_four_languages(text, month):
    assert day(text) == date(2026, month, 3)


@pytest.mark.parametrize("text", ["100001", "-100001"])
def test_a_count_over_the_limit_is_refused_with_the_limit(text: str) -> None:
    with pytest.raises(NotRead, match=r"^a whole number from 1 to 100,000$"):
        count(text)
