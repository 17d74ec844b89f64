"""The money of the pile: one row a weighed piece in the order of weighing, sums over all, and what is still open."""

import pytest

from desk.domain.money import Money
from desk.domain.orders.piece import PieceKey
from desk.domain.status import ORDER_CANCELED, PieceStatus
from desk.session.bench.weigh import weigh
from desk.session.importing.import_orders import import_shop
from desk.session.money.cost_list import cost_list
from desk.session.pile.pile import Pile
from desk.session.pile.stored_cases import read_stored
from desk.session.verdict.stamp_request import accept_stamp_request
from desk.store.tables import answers, pieces
from desk.store.tables.hand_overs import put_postage_on
from tests.session.made import FRANCE, order, policy, shop, stock, weighing

pytestmark = pytest.mark.stocked([order("1"), order("2", shipping_paid=Money(0)), order("3"), order("4")])


def listed(sitting, *weights):
    weigh(sitting, [(PieceKey(number), weighing(value)) for number, value in weights])
    return cost_list(Pile(sitting))


def test_an_unweighed_pile_has_no_rows(full):
    found = listed(full)
    assert (found.rows, found.open) == ((), 4)
    assert (found.sums.margin, found.sums.charged) == (Money(0), Money(0))


def test_rows_are_in_the_order_of_weighing(full):
    found = listed(full, ("3", "0.7"), ("1", "0.7"))
    assert [row.number for row in found.rows] == ["3", "1"]
    assert [row.recipient for row in found.rows] == ["Ada Vell", "Ada Vell"]
    assert found.open == 2


def test_a_canceled_package_counts_only_if_its_postage_is_on(full):
    listed(full, ("1", "0.7"), ("2", "0.7"))
    one, other = (stored.id for stored in read_stored(full)[:2])
    with full.store.act("Cancel") as tx:
        put_postage_on(tx, [one])
        pieces.set_beside(tx, [one, other], PieceStatus.SET_ASIDE)
        for piece in (one, other):
            answers.answer(tx, piece, ORDER_CANCELED)
    found = cost_list(Pile(full))
    assert ([row.number for row in found.rows], found.open) == (["1"], 2)


def test_a_row_is_shipping_paid_less_costs(full):
    """0.82 for an ounce (the list of 2026-07-12); an envelope of 24.00 a 200; 0.04 put in, 0.03 for the label."""
    (row,) = listed(full, ("1", "0.7")).rows
    assert (row.money.charged, row.money.postage, row.money.materials) == (Money(500), Money(82), Money(12 + 4 + 3))
    assert row.money.margin == Money(500 - 82 - 19)


@pytest.mark.parametrize(("paid", "loses"), [(0, True), (100, True), (101, False), (102, False)])
def test_a_piece_that_lost_money_is_marked(sitting, paid, loses):
    """0.82 + 0.19 is 1.01: to come out even is no loss."""
    stock(sitting, [order("1", shipping_paid=Money(paid))])
    (row,) = listed(sitting, ("1", "0.7")).rows
    assert row.loses == loses


def test_the_sums_are_those_of_the_rows(full):
    found = listed(full, ("1", "0.7"), ("2", "1.5"), ("3", "0.7"))
    for column in ("charged", "postage", "materials", "refund", "margin"):
        assert getattr(found.sums, column) == sum((getattr(row.money, column) for row in found.rows), Money(0))
    assert found.sums.charged == Money(1000)


def test_a_piece_without_an_eligible_service_has_no_costs_and_is_counted_as_open(sitting):
    stock(sitting, [order("1", address=FRANCE), order("2")], shop(policy=policy(intl_services=())))
    found = listed(sitting, ("1", "0.7"), ("2", "0.7"))
    assert ([row.number for row in found.rows], found.open) == (["2"], 1)


def test_shipping_is_charged_once_per_order(full):
    weigh(full, [(PieceKey("1"), weighing()), (PieceKey("1", 2), weighing())])
    charged = {row.number: row.money.charged for row in cost_list(Pile(full)).rows}
    assert charged == {"1-1": Money(500), "1-2": Money(0)}


def test_the_sums_are_in_the_shops_currency(sitting):
    import_shop(sitting, shop(policy=policy(currency="EUR", insert_cost=Money(4, "EUR"), label_cost=Money(3, "EUR"))))
    assert cost_list(Pile(sitting)).sums.margin == Money(0, "EUR")


def test_a_refund_counts_only_after_it_is_accepted(sitting):
    stock(sitting, [order("1", buyer_note="by stamp"), order("2")])
    found = listed(sitting, ("1", "0.7"), ("2", "0.7"))
    assert found.asked == found.sums.refund == found.rows[0].money.refund
    assert found.asked
    accept_stamp_request(sitting, 1)
    found = cost_list(Pile(sitting))
    assert (found.asked, bool(found.sums.refund)) == (Money(0), True)
