"""Money: whole minor units, one currency at a time, rounding only in functions named for it."""

from decimal import Decimal

import pytest

from desk.domain.money import CurrencyMismatch, Money, shared_out, zero


@pytest.mark.parametrize(
    ("amount", "currency", "minor"),
    [("0.82", "USD", 82), ("12", "USD", 1200), (3, "EUR", 300), ("1200", "JPY", 1200), ("1.234", "KWD", 1234),
     ("-1.5", "USD", -150), (Decimal("0.820"), "USD", 82), ("1E+2", "USD", 10000)],
)  # fmt: skip
def test_money_is_made_of_an_amount(amount, currency, minor):
    assert Money.of(amount, currency) == Money(minor, currency)


@pytest.mark.parametrize(
    ("amount", "currency"),
    [("0.825", "USD"), ("0.5", "JPY"), ("1.2345", "KWD"), ("nan", "USD"), ("inf", "USD"), ("ten", "USD"), ("", "USD")],
)
def test_money_that_cannot_be_paid_is_refused(amount, currency):
    with pytest.raises(ValueError, match="not a"):
        Money.of(amount, currency)


def test_money_is_us_dollars_unless_stated():
    assert Money(5).currency == "USD"
    assert Money.of("1") == Money(100, "USD")
    assert zero() == Money(0, "USD")
    assert zero("GBP") == Money(0, "GBP")


def test_money_is_added_subtracted_and_multiplied():
    assert Money(82) + Money(29) == Money(111)
    assert Money(82) - Money(111) == Money(-29)
    assert Money(82) * 3 == Money(246)
    assert sum([Money(1), Money(2)], zero()) == Money(3)


def test_amounts_compare():
    assert Money(81) < Money(82)
    assert not Money(82) < Money(82)
    assert Money(82) <= Money(82)
    assert Money(83) > Money(82)
    assert Money(82) >= Money(82)
    assert Money(82) != Money(82, "CAD")


@pytest.mark.parametrize(
    "act",
    [lambda a, b: a + b, lambda a, b: a - b, lambda a, b: a < b, lambda a, b: a <= b],
    ids=["add", "subtract", "less", "at most"],
)
def test_two_currencies_are_never_combined(act):
    with pytest.raises(CurrencyMismatch, match="USD against EUR"):
        act(Money(1, "USD"), Money(1, "EUR"))


def test_only_zero_is_false():
    assert not zero("EUR")
    assert Money(-1)


@pytest.mark.parametrize(
    ("money", "text"),
    [(Money(82), "0.82"), (Money(-150), "-1.50"), (Money(1200, "JPY"), "1200"), (Money(1234, "KWD"), "1.234"),
     (Money(0), "0.00"), (Money(100_000_000), "1000000.00"), (Money(-5), "-0.05")],
)  # fmt: skip
def test_an_amount_has_the_decimals_of_its_currency(money, text):
    assert money.text() == text
    assert Money.of(money.text(), money.currency) == money


@pytest.mark.parametrize(
    ("pack", "count", "one"),
    [("12.50", 100, "0.13"), ("12.49", 100, "0.12"), ("0.01", 2, "0.01"), ("9.99", 3, "3.33"), ("0.00", 7, "0.00"),
     ("10.00", 3, "3.33"), ("20.00", 3, "6.67")],
)  # fmt: skip
def test_a_share_of_a_pack_is_rounded_half_up_to_the_cent(pack, count, one):
    assert Money.of(pack).shared(count) == Money.of(one)


@pytest.mark.parametrize(
    ("total", "weights", "parts"),
    [
        (10, [0, 0], [0, 0]),  # nothing to go by
        (0, [5, 5], [0, 0]),
        (10, [1], [10]),
        (10, [1, 1, 1], [4, 3, 3]),  # of equal remainders the earlier
        (100, [2, 1], [67, 33]),
        (10, [0, 5], [0, 10]),
    ],
)
def test_a_sum_is_divided_to_the_cent(total, weights, parts):
    shared = shared_out(Money(total), [Money(weight) for weight in weights])
    assert [part.minor for part in shared] == parts
