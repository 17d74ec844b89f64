"""Words that also mean something else are not taken for a field. Common practice, no source."""

from __future__ import annotations

import pytest

from desk.intake.order_headers.rules import candidates
from tests.intake.order_headers.test_header_limits import places


def test_an_order_number_may_be_called_the_shop_s_and_an_address_or_amount_may_not() -> None:
    assert candidates("Shop order ID")[0].field == "order"
    for header in ("Shop City", "Site ZIP", "Shop Email", "Web company", "Shop quantity", "Shop shipping cost"):
        assert candidates(header) == ()
    found = places("Order,Buyer City,Buyer Zip,Shop City,Shop Zip", "1,Lyon,69001,Austin,78701")
    assert (found["city"], found["postal_code"]) == (1, 2)
    assert places("Order,Qty,Shop quantity", "1,3,9")["quantity"] == 1


@pytest.mark.parametrize("header", ["Post to", "Posts to", "Posted to"])
def test_what_is_posted_to_a_blog_is_not_the_recipient(header: str) -> None:
    found = places(f"order,Name,{header},item", "1001,Ada Finch,Blog,Pen", "1002,Bo Reed,Newsletter,Ink")
    assert (found["recipient"], 2 in found.values()) == (1, False)
    assert candidates(header) == ()


@pytest.mark.parametrize(
    ("header", "field"),
    [("Núm. interior", "address2"), ("Piso / interior", "address2"), ("Interior", None), ("Tür", None)],
)
def test_the_inside_of_a_notebook_is_not_an_apartment(header: str, field: str | None) -> None:
    found = places(f"order,Street,{header}", "1001,1 Ink Lane,lined", "1002,2 Ink Lane,dotted")
    assert [name for name, place in found.items() if place == 2] == ([field] if field else [])


@pytest.mark.parametrize(
    ("header", "cells", "field"),
    [
        ("Company", ("Reed & Sons", ""), "company"),
        ("School", ("Yes", "No"), None),
        ("Museum", ("12.00", "3.00"), None),
        ("Org", ("12.00", "3.00"), None),
        ("Org", ("Reed & Sons", "Bell Ltd"), None),
        ("Option", ("blue", "red"), "variant"),
        ("Opt", ("blue", "red"), None),
        ("Opt-in", ("yes", "no"), None),
    ],
)
def test_short_words_and_yes_or_no_are_neither_a_company_nor_a_variant(header, cells, field) -> None:
    found = places(f"order,{header},item", f"1001,{cells[0]},Pen", f"1002,{cells[1]},Ink")
    assert [name for name, place in found.items() if place == 1] == ([field] if field else [])
