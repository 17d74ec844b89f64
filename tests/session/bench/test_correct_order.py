"""Correcting an order by hand: what changes, what is refused, what Undo restores, and what a later import reports."""

from __future__ import annotations

from dataclasses import replace

import pytest

from desk.domain.codes import Code
from desk.domain.faults import Refused
from desk.domain.money import Money
from desk.session.bench.correct_order import correct_order, corrected, order_texts
from desk.session.importing.compare import compare, import_accepted
from desk.session.importing.import_orders import import_orders
from desk.session.undo import next_steps, undo
from desk.store.tables import hand_overs, orders, papers
from desk.store.tables.papers import PaperKind
from tests.session.made import order

ORDER = order("1", buyer_note="Thanks!")


pytestmark = pytest.mark.stocked([ORDER])


def kept(sitting):
    with sitting.store.reading() as conn:
        return orders.order(conn, 1).order


@pytest.mark.parametrize(
    ("name", "text", "read"),
    [
        ("recipient", " Wren  Abara ", lambda order: order.address.recipient),
        ("address1", "12 New Lane", lambda order: order.address.address1),
        ("postal_code", "02906", lambda order: order.address.postal_code),
        ("shipping_choice", "Letter", lambda order: order.shipping_choice),
        ("buyer_note", "by stamp please", lambda order: order.buyer_note),
        ("quantity 0", "3", lambda order: str(order.lines[0].quantity)),
    ],
)
def test_a_corrected_field_is_marked_and_can_be_undone(full, name, text, read):
    assert correct_order(full, 1, name, text)
    assert read(kept(full)) == text.strip()
    assert [found.code for found in kept(full).findings] == [Code.EDITED_BY_HAND]
    assert next_steps(full)[0].startswith("Corrected 1: ")
    undo(full)
    assert kept(full) == ORDER


def test_shipping_paid_is_money_in_the_orders_currency(full):
    correct_order(full, 1, "shipping_paid", "$7.50")
    assert kept(full).shipping_paid == Money(750)


def test_a_country_is_read_as_code_or_name(full):
    correct_order(full, 1, "country", "france")
    assert kept(full).address.country == "FR"


def test_another_item_is_no_longer_the_product_of_its_sku(full):
    correct_order(full, 1, "item 0", "Bud vase, blue")
    (line,) = kept(full).lines
    assert (line.item, line.variant, line.sku, line.quantity) == ("Bud vase", "blue", "", ORDER.lines[0].quantity)


def test_each_corrected_field_is_named_once(full):
    for name, text in (("city", "Northfield"), ("city", "Salem"), ("region", "VT")):
        correct_order(full, 1, name, text)
    (mark,) = kept(full).findings
    assert mark.facts["fields"] == ("city", "state or region")


def test_the_same_text_makes_no_step(full):
    before = next_steps(full)
    assert not correct_order(full, 1, "recipient", order_texts(ORDER)["recipient"])
    assert next_steps(full) == before


@pytest.mark.parametrize(
    ("name", "text", "why"),
    [
        ("country", "Freedonia", "which country"),
        ("shipping_paid", "five", "as an amount"),
        ("shipping_paid", "-1", "below 0"),
        ("shipping_paid", "1.234", "as an amount"),
        ("quantity 0", "two", "as a quantity"),
        ("quantity 0", "10000", "as a quantity"),
        ("quantity 0", "0", "needs an item"),
        ("item 0", "", "needs a name"),
    ],
)
def test_unreadable_text_is_refused_and_changes_nothing(full, name, text, why):
    with pytest.raises(Refused, match=why):
        correct_order(full, 1, name, text)
    assert kept(full) == ORDER


def test_a_quantity_of_9999_is_the_most_and_0_takes_a_line_out(rulebook):
    two = replace(ORDER, lines=(*ORDER.lines, replace(ORDER.lines[0], item="Bookmark", sku="")))
    countries = rulebook.countries
    assert corrected(two, "quantity 1", "9999", countries).lines[1].quantity == 9999
    assert corrected(two, "quantity 1", "0", countries).lines == ORDER.lines


def test_an_order_with_a_printed_label_cannot_be_corrected(full):
    with full.store.act("Print") as tx:
        (paper,) = papers.printed(tx, [1], PaperKind.LABEL)
    with pytest.raises(Refused, match="Cancel the label"):
        correct_order(full, 1, "city", "Northfield")
    with full.store.act("Cancel label") as tx:
        papers.void(tx, paper)
    assert correct_order(full, 1, "city", "Northfield")


def test_an_order_with_a_printed_slip_can_be_corrected(full):
    with full.store.act("Print") as tx:
        papers.printed(tx, [1], PaperKind.SLIP)
    assert correct_order(full, 1, "city", "Northfield")


def test_an_order_with_its_postage_on_cannot_be_corrected(full):
    with full.store.act("Postage") as tx:
        hand_overs.put_postage_on(tx, [1])
    with pytest.raises(Refused, match="already has its postage"):
        correct_order(full, 1, "city", "Northfield")


def test_importing_the_same_list_keeps_the_correction_and_another_list_is_a_change(full):
    correct_order(full, 1, "city", "Northfield")
    with full.store.reading() as conn:
        same = orders.compare_with_stored(conn, [ORDER])
        other = orders.compare_with_stored(conn, [replace(ORDER, buyer_note="Please hurry")])
    assert (len(same.same), len(same.changed)) == (1, 0)
    assert len(other.changed) == 1
    import_orders(full, [ORDER])
    assert kept(full).address.city == "Northfield"


def test_a_list_that_differs_from_a_correction_asks_even_if_it_only_fills_a_field(full):
    fuller = replace(ORDER, address=replace(ORDER.address, company="Bindery"))
    (before,) = compare(full, [fuller]).changed
    assert (before.edited, before.only_fills) == (False, True)
    correct_order(full, 1, "city", "Northfield")
    (changed,) = compare(full, [fuller]).changed
    assert (changed.edited, changed.only_fills) == (True, False)
    import_accepted(full, compare(full, [fuller]), [])
    assert (kept(full).address.city, kept(full).address.company) == ("Northfield", "")


@pytest.mark.parametrize(("text", "minor"), [("0", 0), ("0.00", 0), ("0.01", 1), ("-0.01", None)])
def test_shipping_paid_may_be_zero_but_not_less(full, text, minor):
    if minor is None:
        with pytest.raises(Refused, match="can't be below 0"):
            correct_order(full, 1, "shipping_paid", text)
    else:
        correct_order(full, 1, "shipping_paid", text)
        assert kept(full).shipping_paid == Money(minor)
