"""Every field a column may be has words, and no two fields of one kind of table share theirs."""

from __future__ import annotations

import pytest

from desk.intake.order_headers.rules import ORDER_FIELDS
from desk.intake.shop.product_lists import WORDS, ListKind
from desk.session.words.fields import field_words

KINDS = {"orders": ORDER_FIELDS, "products": WORDS[ListKind.PRODUCTS], "mailers": WORDS[ListKind.MAILERS]}


@pytest.mark.parametrize("kind", KINDS)
def test_fields_of_one_kind_of_table_have_different_words(kind: str) -> None:
    words = [field_words(name) for name in KINDS[kind]]
    assert len(set(words)) == len(words)
    assert [word for word in words if "_" in word or not word.strip()] == []


@pytest.mark.parametrize(
    ("name", "expected"),
    [("address1", "street"), ("postal_code", "postal code"), ("hs", "HS code"), ("line 2", "line 2"), ("", "")],
)
def test_each_field_has_its_words(name: str, expected: str) -> None:
    assert field_words(name) == expected
