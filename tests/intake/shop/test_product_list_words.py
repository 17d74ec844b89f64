"""The words of product and mailer lists: each means one field of the shop file."""

import pytest

from desk.intake.columns.headers import folded
from desk.intake.shop.product_list_words import MAILER_WORDS, PRODUCT_WORDS
from desk.intake.shop.shop_form_file import MailerTable, ProductTable

LISTS = [(PRODUCT_WORDS, ProductTable), (MAILER_WORDS, MailerTable)]


@pytest.mark.parametrize(("words", "table"), LISTS)
def test_the_fields_match_the_shop_file(words, table):
    assert set(words) <= set(table.model_fields)
    assert set(table.model_fields) - set(words) == set()


@pytest.mark.parametrize(("words", "table"), LISTS)
def test_no_header_means_two_fields_of_one_list(words, table):
    seen = {}
    for field, listed in words.items():
        for word in {folded(word) for word in listed.split("|")} | {folded(field)}:
            assert word
            assert seen.setdefault(word, field) == field, word
