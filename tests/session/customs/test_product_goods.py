from dataclasses import replace

import pytest

from desk.domain.faults import Refused
from desk.domain.money import Money
from desk.domain.orders.order import OrderLine
from desk.domain.weight import Weight
from desk.session.customs.product_goods import (
    MOST_CHOICES,
    copy_choices,
    copy_from,
    fix_product,
    hs_choices,
    same_for_all,
    variants_of,
)
from desk.session.importing.import_orders import import_shop
from desk.session.pile.stored_cases import read_terms
from desk.session.undo import undo
from tests.session import made

GOOD = {"customs_words": "Letterpress greeting card", "hs": "4909.00", "origin": "Germany"}


@pytest.fixture
def settled(sitting):
    import_shop(sitting, made.shop())
    return sitting


def shop_in(sitting):
    return read_terms(sitting).shop


def test_the_product_is_corrected_in_one_step(settled):
    assert fix_product(settled, made.line(), GOOD | {"unit_weight": "1", "weight_unit": "oz"}) == ()
    product = shop_in(settled).products[0]
    assert (product.customs_words, product.hs, product.origin) == ("Letterpress greeting card", "4909.00", "DE")
    assert product.unit_weight == Weight.of(1, "oz")
    undo(settled)
    assert shop_in(settled).products[0] == made.CARD


def test_only_customs_fields_are_saved(settled):
    fix_product(settled, made.line(), {"name": "Another", "stiff": "yes", "hs": "490990"})
    assert (shop_in(settled).products[0].name, shop_in(settled).products[0].hs) == ("Card", "490990")


def test_an_unknown_product_is_added(settled):
    line = OrderLine("Thread", 1, Money(300), "TH")
    assert fix_product(settled, line, GOOD) == ()
    added = shop_in(settled).products[-1]
    assert (added.sku, added.name, added.hs, added.origin) == ("TH", "Thread", "4909.00", "DE")
    assert len(shop_in(settled).products) == 6


@pytest.mark.parametrize(
    ("typed", "field"),
    [({"origin": "Nowhere"}, "origin"), ({"unit_weight": "heavy", "weight_unit": "g"}, "unit_weight")],
)
def test_unreadable_text_is_reported_at_its_field(settled, typed, field):
    assert [fault.field for fault in fix_product(settled, made.line(), typed)] == [field]
    assert shop_in(settled).products[0] == made.CARD


def test_fields_may_be_cleared(settled):
    assert fix_product(settled, made.line(), {"origin": "", "hs": "", "unit_weight": "", "weight_unit": ""}) == ()
    product = shop_in(settled).products[0]
    assert (product.origin, product.hs, product.unit_weight) == ("", "", None)


def test_hints_are_sorted_by_relevance_with_each_code_once(rulebook):
    hints = hs_choices(rulebook, "art print on paper")
    codes = [hint.code for hint in hints]
    assert codes[0] == "491191"
    assert len(set(codes)) == len(codes) <= MOST_CHOICES
    assert all(hint.heading for hint in hints)
    assert {"general knowledge of the HS text", "open table of HS 2022 (ODC-PDDL-1.0)"}.isdisjoint(
        h.source for h in hints
    )
    assert hs_choices(rulebook, "qqqq") == []


def test_codes_of_own_products_come_first_when_two_words_agree(rulebook):
    own = replace(
        made.CARD, name="Fern sampler", customs_words="Printed linen sampler", hs="630790", hs_edition="HS 2022"
    )
    shop = replace(made.shop(), products=(own,))
    first = hs_choices(rulebook, "linen sampler, printed", shop)[0]
    assert (first.code, first.source) == ("630790", "your product \u201cFern sampler\u201d")
    assert set(first.matched) == {"linen", "sampler", "printed"}
    one_word = hs_choices(rulebook, "cotton sampler", shop)
    assert "your product" not in " ".join(choice.source for choice in one_word)


@pytest.mark.parametrize(("text", "own"), [("linen towel", 0), ("linen sampler", 1)])
def test_the_code_of_another_product_is_suggested_only_with_two_words_in_common(rulebook, text, own):
    product = replace(made.CARD, name="Sampler", customs_words="Linen fabric", hs="630790", hs_edition="HS 2022")
    choices = hs_choices(rulebook, text, replace(made.shop(), products=(product,)))
    assert sum("your product" in choice.source for choice in choices) == own


def test_of_products_with_one_code_the_most_similar_is_named(rulebook):
    products = tuple(
        replace(made.CARD, sku=name, name=name, customs_words=words, hs="630790", hs_edition="HS 2022")
        for name, words in (("One", "linen sampler"), ("Two", "linen sampler"), ("Three", "printed linen sampler"))
    )
    shop = replace(made.shop(), products=products)
    assert "One" in hs_choices(rulebook, "linen sampler", shop)[0].source
    assert "Three" in hs_choices(rulebook, "printed linen sampler", shop)[0].source


def test_at_most_two_codes_of_own_products_are_proposed(rulebook):
    products = tuple(
        replace(made.CARD, sku=code, name=f"Printed linen {code}", customs_words="", hs=code, hs_edition="HS 2022")
        for code in ("630790", "490900", "482010")
    )
    choices = hs_choices(rulebook, "printed linen", replace(made.shop(), products=products))
    assert sum("your product" in choice.source for choice in choices) == 2


def test_variants_are_the_same_item_with_another_sku():
    lines = [OrderLine("Card", 1, Money(1), sku) for sku in ("CD", "CD-RED", "CD-RED", "CD-BLUE")]
    lines.append(OrderLine("Book", 1, Money(1), "NB"))
    assert [one.sku for one in variants_of(lines[0], lines)] == ["CD-RED", "CD-BLUE"]


def test_all_variants_get_the_details_in_one_step(settled):
    """A variant without a product of its own shares the one of its name already."""
    red, blue = (replace(made.CARD, sku=sku, hs="", origin="") for sku in ("CD-RED", "CD-BLUE"))
    import_shop(settled, made.shop(products=(made.CARD, red, blue)))
    others = [OrderLine("Card", 1, Money(650), sku) for sku in ("CD-RED", "CD-BLUE", "CD-NEW")]
    assert same_for_all(settled, made.line(), others) == 2
    assert shop_in(settled).products == (made.CARD, replace(made.CARD, sku="CD-RED"), replace(made.CARD, sku="CD-BLUE"))
    undo(settled)
    assert shop_in(settled).products == (made.CARD, red, blue)
    with pytest.raises(Refused, match="No other variant of Card differs"):
        same_for_all(settled, made.line(), others[2:])


def test_details_are_copied_from_the_most_similar_product_first(settled):
    line = OrderLine("Printed card, blue", 1, Money(650), "PC")
    choices = copy_choices(shop_in(settled), line)
    assert choices[0][0] == "CD"
    copy_from(settled, line, "CD")
    added = shop_in(settled).products[-1]
    assert (added.sku, added.hs, added.customs_words, added.unit_weight) == (
        "PC",
        made.CARD.hs,
        made.CARD.customs_words,
        made.CARD.unit_weight,
    )
    undo(settled)
    assert len(shop_in(settled).products) == 5


def test_a_known_weight_is_not_overwritten(settled):
    copy_from(settled, made.line(made.BOOK), "CD")
    book = shop_in(settled).products[2]
    assert (book.hs, book.unit_weight) == (made.CARD.hs, made.BOOK.unit_weight)
