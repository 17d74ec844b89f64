import pytest

from desk.domain.money import Money
from desk.domain.shop.stamp import StampKind
from desk.session.contents.piece_words import counts_for, masked, money_words, stamp_kind_words


@pytest.mark.parametrize(
    ("kind", "value", "words", "drawn"),
    [
        (StampKind.FOREVER, None, "Forever", "1"),
        (StampKind.GLOBAL_FOREVER, None, "Global Forever", "globe"),
        (StampKind.ADDITIONAL_OUNCE, None, "additional ounce", "+1"),
        (StampKind.TWO_OUNCE, None, "two-ounce", "2"),
        (StampKind.FACE, Money(5), "$0.05", "$0.05"),
    ],
)
def test_stamps_are_called_as_people_call_them(kind, value, words, drawn):
    assert stamp_kind_words(kind, value) == words
    assert counts_for(kind, value) == drawn


@pytest.mark.parametrize(("number", "shown"), [("IM123", "••123"), ("1234", "•234"), ("123", "123"), ("", "")])
def test_only_the_last_three_characters_of_a_tax_number_are_printed(number, shown):
    assert masked(number) == shown


def test_money_has_its_sign():
    assert (money_words(Money(111)), money_words(Money(300, "EUR"))) == ("$1.11", "EUR 3.00")
