"""The words of an order list: each means one field of the contract and no other."""

import pytest

from desk.intake.columns.header_words import ORDER_WORDS
from desk.intake.columns.headers import folded
from desk.intake.orders.order_rows import Said

TWO_MEANINGS = ("name", "price", "total", "date", "address", "id", "number", "amount")


def words(field):
    return ORDER_WORDS[field].split("|")


def test_the_fields_are_those_of_an_order_list():
    assert tuple(ORDER_WORDS) == Said._fields


@pytest.mark.parametrize("field", ORDER_WORDS)
def test_every_word_of_a_field_says_something_and_stands_there_once(field):
    """Two spellings of one word may fold to the same; the same spelling twice is a slip."""
    assert all(folded(word) for word in words(field))
    assert len(set(words(field))) == len(words(field))


def test_no_word_means_two_fields():
    seen = {}
    for field in ORDER_WORDS:
        for word in {folded(word) for word in words(field)} | {folded(field)}:
            assert seen.setdefault(word, field) == field, word


@pytest.mark.parametrize("word", TWO_MEANINGS)
def test_words_of_two_meanings_are_left_out_on_purpose(word):
    assert word not in {each for field in ORDER_WORDS for each in words(field)}
