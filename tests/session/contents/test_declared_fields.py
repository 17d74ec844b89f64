from dataclasses import replace
from decimal import Decimal

import pytest

from desk.domain.money import Money
from desk.domain.shop.shop import ExchangeRate, SenderName
from desk.session.contents.declared_fields import in_dollars, sender_name_of, split_name
from tests.session.made import ON, SENDER, shop


@pytest.mark.parametrize(
    ("name", "first", "last"),
    [("June Alder", "June", "Alder"), ("  Ana  de la Cruz ", "Ana de la", "Cruz"), ("Cher", "", "Cher"), ("", "", "")],
)
def test_the_last_word_of_a_name_is_the_last_name(name, first, last):
    assert split_name(name) == SenderName(first, last)


def test_a_shops_name_alone_is_not_a_first_and_last_name():
    assert sender_name_of(shop()) == SenderName()
    person = replace(shop(), sender=replace(SENDER, recipient="June Alder", company="Sorrel Street Bindery"))
    assert sender_name_of(person) == SenderName("June", "Alder")
    assert sender_name_of(replace(person, sender_name=SenderName("J.", "Alder"))) == SenderName("J.", "Alder")


def test_values_are_converted_at_the_shops_rate_before_an_approximate_one(terms):
    rough = in_dollars(Money.of("100", "EUR"), terms)
    own = ExchangeRate("EUR", "USD", Decimal("1.25"), ON)
    assert rough == Money(11172)  # European Central Bank, October 30, 2026: 1.1172
    assert in_dollars(Money.of("100", "EUR"), replace(terms, shop=shop(rates=(own,)))) == Money(12500)
    assert in_dollars(Money.of("100", "KWD"), terms) is None
