"""What is entered for one order's declaration: asked only where needed, checked, saved, undone."""

from dataclasses import replace

import pytest

from desk.domain.faults import Refused
from desk.domain.money import Money
from desk.domain.orders.customs_details import Category, IfUndeliverable
from desk.session.customs.declarations import declaration_view
from desk.session.customs.details import detail_texts, set_detail, set_unit_value, with_detail
from desk.session.importing.compare import compare, import_accepted
from desk.session.papers.hand_over import hand_pieces_over
from desk.session.undo import undo
from desk.store.tables import orders
from tests.session.made import BOOK, CARD, FRANCE, abroad, case, line, order, weighing

pytestmark = pytest.mark.stocked(
    [order("1", address=FRANCE, lines=(line(BOOK), line(CARD, 2, 0)))], weights={"1": weighing("15", "Padded")}
)


def verdict(pile):
    return pile.verdicts[pile.find("1")]


def codes(pile):
    return [str(found.code) for found in verdict(pile).findings]


def set_(pile, name, text):
    return set_detail(pile.sitting, pile.find("1"), name, text)


@pytest.mark.parametrize(
    ("country", "code", "expected", "not_asked"),
    [
        ("BR", "01310-100", {"buyer_tax_id"}, {"ioss", "itn", "license"}),
        ("KR", "04524", {"buyer_tax_id"}, {"ioss"}),
        ("FR", "69002", {"ioss"}, {"buyer_tax_id"}),
        ("ES", "35001", set(), {"ioss", "buyer_tax_id"}),  # the Canary Islands: outside the area of the scheme
        ("AU", "5024", set(), {"ioss", "buyer_tax_id"}),
    ],
)
def test_numbers_are_asked_for_where_the_destination_needs_them(judged, terms, country, code, expected, not_asked):
    found = judged("4.2", "Padded", address=abroad(country=country, postal_code=code))
    names = {detail.name for detail in declaration_view(found, terms).details}
    assert expected <= names
    assert not names & not_asked
    assert {"category", "customs_value", "phone", "email"} <= names


def test_the_larger_form_requires_more_fields(judged, terms):
    dear = judged("4.2", "Padded", address=abroad(country="JP", postal_code="100-0006"), lines=(line(price=45000),))
    names = [detail.name for detail in declaration_view(dear, terms).details]
    assert names[-4:] == ["if_undeliverable", "license", "certificate", "invoice"] or "insured_value" in names


def test_each_field_is_saved_in_one_step_and_undone(pile):
    assert set_(pile, "invoice", "R-77") == ()
    assert set_(pile, "phone", "+33 4 55 50 10 00") == ()
    assert set_(pile, "if_undeliverable", "treat as abandoned") == ()
    customs = verdict(pile).case.order.customs
    assert (customs.invoice, customs.if_undeliverable) == ("R-77", IfUndeliverable.ABANDON)
    assert verdict(pile).case.order.address.phone == "+33 4 55 50 10 00"
    undo(pile.sitting)
    undo(pile.sitting)
    assert verdict(pile).case.order.address.phone == ""
    assert set_(pile, "invoice", "R-77") == ()  # the same again is no step


def test_a_customs_value_replaces_the_price_paid(pile):
    assert set_(pile, "customs_value", "40.00 USD") == ()
    assert verdict(pile).declaration.total_value == Money(4000)
    assert set_(pile, "customs_value", "") == ()
    assert verdict(pile).declaration.total_value == Money(650)


def test_a_free_item_can_be_given_a_value(pile):
    assert "value-zero" in codes(pile)
    assert set_unit_value(pile.sitting, pile.find("1"), "CD", "2.50") == ()
    assert "value-zero" not in codes(pile)
    assert [one.value for one in verdict(pile).declaration.lines] == [Money(650), Money(500)]
    assert verdict(pile).case.order.goods_value == Money(650)  # what was paid stays what was paid


def test_a_paid_item_is_not_a_gift_and_another_reason_needs_words(pile):
    set_(pile, "category", "gift")
    assert "gift-was-paid" in codes(pile)
    set_(pile, "category", "other")
    assert "reason-missing" in codes(pile)
    set_(pile, "category_words", "warranty replacement")
    assert verdict(pile).declaration.category == "other: warranty replacement"
    assert "reason-missing" not in codes(pile)
    set_(pile, "category", "sale of goods")
    assert verdict(pile).case.order.customs.category is None


@pytest.mark.parametrize("text", ["much", "0", "-1", "NaN", "1.234", "1e20"])
def test_an_unreadable_amount_is_reported_and_not_saved(pile, text):
    assert [fault.field for fault in set_(pile, "customs_value", text)] == ["customs_value"]
    assert verdict(pile).case.order.customs.value is None


def test_an_export_filing_number_removes_the_stop(pile):
    set_(pile, "customs_value", "2600")
    assert "needs-export-filing" in codes(pile)
    set_(pile, "itn", "20260308366903")
    assert "itn-malformed" in codes(pile)
    set_(pile, "itn", "AES X20260308366903")
    assert not {"needs-export-filing", "itn-malformed"} & set(codes(pile))
    assert verdict(pile).declaration.export == "AES X20260308366903"


def test_a_declaration_cannot_change_after_hand_over(pile):
    set_unit_value(pile.sitting, pile.find("1"), "CD", "2.50")
    hand_pieces_over(pile.sitting, pile, [pile.find("1")])
    with pytest.raises(Refused, match="1 was handed over, so its declaration stays"):
        set_(pile, "invoice", "R-78")
    with pytest.raises(Refused, match="1 was handed over, so its declaration stays"):
        set_unit_value(pile.sitting, pile.find("1"), "CD", "3.50")


def test_entered_details_survive_a_changed_order(pile):
    set_(pile, "invoice", "R-77")
    set_(pile, "email", "solene@post.example")
    sitting, before = pile.sitting, verdict(pile).case.order
    changed = order("1", address=replace(FRANCE, city="Paris", postal_code="75001"), lines=before.lines)
    preview = compare(sitting, [changed])
    assert [one.field for one in preview.changed[0].differences] == ["city", "postal_code"]
    import_accepted(sitting, preview, ["1"])
    now = verdict(pile).case.order
    assert (now.address.city, now.address.email, now.customs.invoice) == ("Paris", "solene@post.example", "R-77")
    assert compare(sitting, [changed]).changed == ()


def test_item_values_are_dropped_when_the_currency_of_the_order_changes(pile):
    set_unit_value(pile.sitting, pile.find("1"), "CD", "2.50")
    before = verdict(pile).case.order
    in_euros = tuple(replace(line, unit_price=Money(line.unit_price.minor, "EUR")) for line in before.lines)
    amounts = {"currency": "EUR", "shipping_paid": Money(0, "EUR"), "discount": Money(0, "EUR")}
    changed = order("1", address=FRANCE, lines=in_euros, **amounts)
    import_accepted(pile.sitting, compare(pile.sitting, [changed]), ["1"])
    assert verdict(pile).case.order.customs.unit_values == ()
    assert verdict(pile).declaration.total_value == Money(650, "EUR")


def test_an_order_with_entered_data_passes_the_check_of_the_store(pile):
    set_(pile, "invoice", "R-77")
    with pile.sitting.store.reading() as conn:
        orders.check_all(conn)


def test_every_field_is_read_back_as_saved():
    one = case().order
    for name, text in {**detail_texts(one), "invoice": "1", "category": Category.RETURN.value}.items():
        assert detail_texts(with_detail(one, name, text))[name] == text


def test_a_customs_value_is_typed_as_the_locale_writes_it(pile, locale):
    locale("de_DE.UTF-8")
    assert set_(pile, "customs_value", "12,50") == ()
    order_now = verdict(pile).case.order
    assert order_now.customs.value == Money.of("12.50", "USD")
    assert detail_texts(order_now)["customs_value"] == "12,50"
