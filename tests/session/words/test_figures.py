"""Dates, money and numbers: as in the United States where no locale is set, else as the locale writes them."""

from __future__ import annotations

from datetime import UTC, date, datetime
from decimal import Decimal

import pytest

from desk.session.words import figures


@pytest.mark.parametrize("name", ["", "C", "C.UTF-8", "POSIX", "en_US.UTF-8", "xx_XX.UTF-8", "not a locale"])
def test_figures_are_american_unless_a_known_locale_is_set(locale, name):
    locale(name)
    assert figures.day_in_words(date(2026, 7, 12)) == "July 12, 2026"
    assert figures.short_day(date(2026, 10, 3)) == "Oct 3, 2026"
    assert figures.short_day(date(2026, 10, 3), date(2026, 12, 31)) == "Oct 3"
    assert figures.short_day(date(2026, 10, 3), date(2027, 1, 1)) == "Oct 3, 2026"
    assert figures.sum_in_words("1.11", "USD") == "$1.11"
    assert figures.sum_in_words("2500.00", "USD") == "$2,500.00"


@pytest.mark.parametrize(
    ("name", "day", "dollars", "euros"),
    [
        ("de_DE.UTF-8", "12. Juli 2026", "2.500,00 $", "EUR 2.500,00"),  # CLDR, by babel
        ("en_GB.UTF-8", "12 July 2026", "US$2,500.00", "EUR 2,500.00"),
    ],
)
def test_figures_follow_the_system_locale(locale, name, day, dollars, euros):
    locale(name)
    assert figures.day_in_words(date(2026, 7, 12)) == day
    assert figures.sum_in_words("2500.00", "USD") == dollars
    assert figures.sum_in_words("2500.00", "EUR") == euros


@pytest.mark.parametrize(
    ("name", "expected", "pattern"),
    [
        ("en_US.UTF-8", "July 12, 2026, 2:05 PM", "MMMM d, y"),
        ("de_DE.UTF-8", "12. Juli 2026, 14:05", "d. MMMM y"),  # CLDR, by babel
    ],
)
def test_a_time_is_written_as_the_locale_does(locale, name, expected, pattern):
    locale(name)
    here = datetime(2026, 7, 12, 14, 5).astimezone()
    assert figures.moment_in_words(here) == expected
    assert figures.moment_in_words(here.astimezone(UTC)) == expected
    assert expected.endswith(figures.time_in_words(here))
    assert figures.day_pattern() == pattern


@pytest.mark.parametrize(
    ("amount", "currency", "expected"),
    [
        ("3.00", "EUR", "EUR 3.00"),
        ("1200", "JPY", "JPY 1,200"),
        ("-1.50", "USD", "-$1.50"),
        (Decimal("0"), "USD", "$0.00"),
        ("a lot", "USD", "USD a lot"),
        ("NaN", "USD", "USD NaN"),
        ("1E100", "USD", "USD 1E100"),
    ],
)
def test_amounts_are_written_with_their_currency(amount, currency, expected):
    assert figures.sum_in_words(amount, currency) == expected


@pytest.mark.parametrize(("count", "expected"), [(0, "0 boxes"), (1, "1 box"), (2, "2 boxes"), (1200, "1,200 boxes")])
def test_counts_agree_in_number(count, expected):
    assert figures.counted(count, "box", "boxes") == expected
    assert figures.counted(count, "piece").endswith("piece" if count == 1 else "pieces")


@pytest.mark.parametrize(
    ("parts", "expected"), [([], ""), (["a"], "a"), (["a", "b"], "a and b"), (["a", "b", "c"], "a, b, and c")]
)
def test_lists_are_joined_with_commas_and_and(parts, expected):
    assert figures.listed(parts) == expected


@pytest.mark.parametrize(
    ("name", "figures_of", "number"),  # CLDR, by babel
    [
        ("C", "1 lb 3.2 oz", "12,345,678.9"),
        ("en_US.UTF-8", "1 lb 3.2 oz", "12,345,678.9"),
        ("de_DE.UTF-8", "1 lb 3,2 oz", "12.345.678,9"),
        ("fr_FR.UTF-8", "1 lb 3,2 oz", "12\u202f345\u202f678,9"),
        ("de_CH.UTF-8", "1 lb 3.2 oz", "12’345’678.9"),
        ("hi_IN.UTF-8", "1 lb 3.2 oz", "1,23,45,678.9"),
        ("ar_EG.UTF-8", "1 lb 3.2 oz", "12,345,678.9"),
    ],
)
def test_measures_and_counts_are_written_by_the_locale(locale, name, figures_of, number):
    locale(name)
    assert figures.measure("1 lb 3.2 oz") == figures_of
    assert figures.number_in_words(Decimal("12345678.90")) == number


def test_every_side_of_a_size_has_the_decimal_sign_of_the_locale(locale):
    locale("de_DE.UTF-8")
    assert figures.measure("9.5 × 6.25 × 0.25 in") == "9,5 × 6,25 × 0,25 in"


def test_a_sum_has_no_mark_for_text_from_right_to_left(locale):
    locale("ar_EG.UTF-8")
    assert figures.sum_in_words("2500.00", "USD") == "2,500.00 US$"  # CLDR, by babel, without its U+200F


def test_other_money_is_grouped_by_the_locale_too(locale):
    locale("hi_IN.UTF-8")
    assert figures.sum_in_words("1234567.50", "EUR") == "EUR 12,34,567.50"


@pytest.mark.parametrize(
    ("name", "whole", "tenth"),
    [("C", "12%", "3.4%"), ("de_DE.UTF-8", "12 %", "3,4 %")],  # CLDR, by babel
)
def test_a_share_is_a_percentage_of_the_locale(locale, name, whole, tenth):
    locale(name)
    assert (figures.share_in_words(0.123), figures.share_in_words(0.0344, 1)) == (whole, tenth)


@pytest.mark.parametrize(("count", "words"), [(0, "0 pieces"), (1, "1 piece"), (2, "2 pieces")])
def test_pieces_are_counted_in_words(count: int, words: str) -> None:
    assert figures.pieces_in_words(count) == words


@pytest.mark.parametrize(
    ("count", "words"),
    [(0, ""), (1, "(1 piece: 1-1)"), (3, "(3 pieces: 1-1, 2-1, 3-1)"), (4, "(4 pieces: 1-1, 2-1, 3-1, …)")],
)
def test_at_most_three_pieces_are_named(count: int, words: str) -> None:
    assert figures.some_of([f"{number}-1" for number in range(1, count + 1)]) == words
