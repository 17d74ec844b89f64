from dataclasses import replace
from decimal import Decimal

import pytest

from desk.domain.changes import Changes
from desk.domain.faults import Refused
from desk.domain.money import Money
from desk.domain.orders.piece import PieceKey
from desk.domain.status import PieceStatus
from desk.domain.weight import Shown, WeightUnit
from desk.session.bench.answers import answer_looks
from desk.session.bench.weigh import fold_twice, weigh
from desk.session.importing.import_orders import import_orders, import_shop
from desk.session.pile.bulk_changes import choose_mailer, choose_service, set_beside
from desk.session.pile.pile import Pile
from desk.session.pile.stored_cases import read_cases, read_stored, read_terms
from desk.session.undo import next_steps, redo, undo
from desk.session.unreported import mark_reported, unreported
from tests.session.made import following_pile, order, shop, weigh_piece, weighing

ORDERS = (order("1"), order("2", buyer_note="by stamp"), order("3"))


# A sitting with a shop and three orders, and every change it announced.
pytestmark = pytest.mark.stocked(ORDERS)


def ids(sitting):
    return {stored.case.key.reference: stored.id for stored in read_stored(sitting)}


def row(sitting, reference="1-1"):
    return next(stored.case for stored in read_stored(sitting) if stored.case.key.reference == reference)


def test_an_order_is_imported_with_its_first_piece(full):
    assert list(ids(full)) == ["1-1", "2-1", "3-1"]
    assert read_terms(full).shop == shop()


def test_importing_the_same_orders_and_shop_again_changes_nothing(full):
    before, revision = read_stored(full), full.store.revision
    import_shop(full, shop())
    taken = import_orders(full, ORDERS)
    assert (taken.new, taken.changed) == ((), ())
    assert read_stored(full) == before
    assert full.store.revision == revision
    assert unreported(full) == []


def test_a_changed_order_replaces_the_old_one_and_is_reported(full):
    import_orders(full, [replace(ORDERS[1], shipping_paid=Money(900)), ORDERS[0]])
    assert row(full, "2-1").order.shipping_paid == Money(900)
    assert len(read_stored(full)) == 3
    assert unreported(full) == [{"order": "2"}]
    mark_reported(full)
    assert unreported(full) == []
    mark_reported(full)


def test_a_recorded_weight_is_reported_only_when_it_changes(full):
    first = weigh(full, [(PieceKey("1"), weighing("0.7"))])
    assert (first.fresh, first.changed, first.strangers) == ((PieceKey("1"),), (), ())
    again = weigh(full, [(PieceKey("1"), weighing("0.7"))])
    assert (again.fresh, again.changed) == ((), ())
    other = weigh(full, [(PieceKey("1"), weighing("1.7"))])
    assert other.changed == (PieceKey("1"),)
    assert unreported(full) == [{"order": "1", "piece": 1}]
    assert row(full).weighing == weighing("1.7")


def test_a_weight_without_an_order_has_no_piece(full):
    weighed = weigh(full, [(PieceKey("9"), weighing()), (PieceKey("3", 2), weighing())])
    assert weighed.strangers == (PieceKey("9"),)
    assert sorted(ids(full)) == ["1-1", "2-1", "3-1", "3-2"]
    assert row(full, "3-2").pieces_in_order == 2


def test_two_weights_in_one_file_keep_the_earlier_one_too():
    folded = fold_twice(
        [(PieceKey("1"), weighing("9.1")), (PieceKey("2"), weighing()), (PieceKey("1"), weighing("9.6"))]
    )
    assert list(folded) == [PieceKey("1"), PieceKey("2")]
    assert folded[PieceKey("1")].shown.value == Decimal("9.6")
    assert folded[PieceKey("1")].earlier == Shown(Decimal("9.1"), WeightUnit.OUNCE, Decimal("0.1"))
    assert folded[PieceKey("2")].earlier is None


def test_cases_are_ordered_by_the_weights_file_then_weighed_then_the_rest(full):
    weigh(full, [(PieceKey("3"), weighing())])
    weigh(full, [(PieceKey("2"), weighing())])
    assert [case.key.order for case in read_cases(full, [PieceKey("2")])] == ["2", "3", "1"]
    assert [case.key.order for case in read_cases(full)] == ["2", "3", "1"]


def test_weighing_a_missing_piece_is_a_bug(full):
    with pytest.raises(KeyError):
        weigh_piece(full, 999, weighing())


ACTS = {
    "weigh": lambda sitting, number: weigh(sitting, [(PieceKey("1"), weighing("1.7"))]),
    "weigh piece": lambda sitting, number: weigh_piece(sitting, number, weighing("2.7")),
    "answer": lambda sitting, number: answer_looks(sitting, number, ["stamps-requested"], number="1-1"),
    "mailer": lambda sitting, number: choose_mailer(sitting, [number], "Padded"),
    "service": lambda sitting, number: choose_service(sitting, [number], "ground-retail"),
    "beside": lambda sitting, number: set_beside(sitting, [number], PieceStatus.SET_ASIDE),
    "orders": lambda sitting, number: import_orders(sitting, [replace(ORDERS[0], buyer_note="new"), order("7")]),
    "shop": lambda sitting, number: import_shop(sitting, shop(stamps=())),
}


@pytest.mark.parametrize("name", ACTS)
def test_every_act_can_be_undone_and_done_again(full, name):
    before, terms = read_stored(full), read_terms(full).shop
    ACTS[name](full, ids(full)["1-1"])
    after = read_stored(full), read_terms(full).shop
    assert after != (before, terms)
    step = next_steps(full)[0]
    assert step
    assert undo(full) == step
    assert (read_stored(full), read_terms(full).shop) == (before, terms)
    assert next_steps(full)[1] == step
    assert redo(full) == step
    assert [s.case for s in read_stored(full)] == [s.case for s in after[0]]
    assert read_terms(full).shop == after[1]


@pytest.mark.parametrize("name", ACTS)
def test_a_pile_that_follows_changes_equals_one_read_again(full, name):
    weigh(full, [(PieceKey(number), weighing()) for number in ("1", "2")])
    pile = following_pile(full)
    ACTS[name](full, ids(full)["1-1"])
    assert_fresh(pile, full)
    undo(full)
    assert_fresh(pile, full)
    redo(full)
    assert_fresh(pile, full)


def assert_fresh(pile, sitting):
    fresh = Pile(sitting)
    assert dict(pile.verdicts) == dict(fresh.verdicts)
    assert pile.in_turn() == fresh.in_turn()
    assert pile.batch() == fresh.batch()


def test_a_pile_reports_pieces_whose_verdict_changed(full):
    weigh(full, [(PieceKey("1"), weighing())])
    pile, number = Pile(full), ids(full)["2-1"]
    weigh_piece(full, number, weighing())
    assert pile.follow(full.store.last_changes) == {number}
    assert pile.follow(Changes()) == frozenset()


def test_a_pile_finds_by_number_and_by_reference(full):
    weigh(full, [(PieceKey("3", 2), weighing())])
    pile, known = Pile(full), ids(full)
    assert pile.find(" 3 ") == known["3-1"]
    assert pile.find("3-2") == known["3-2"]
    assert pile.find("4") is None


def test_a_pile_is_in_the_order_of_weighing(full):
    weigh(full, [(PieceKey("3"), weighing())])
    weigh(full, [(PieceKey("1"), weighing())])
    pile, known = Pile(full), ids(full)
    assert pile.in_turn() == [known["3-1"], known["1-1"], known["2-1"]]


def test_listeners_are_notified_after_the_commit(full):
    reported = []
    full.listeners.append(reported.append)
    number = ids(full)["1-1"]
    weigh_piece(full, number, weighing())
    assert [number in changes.pieces for changes in reported] == [True]
    set_beside(full, [number], PieceStatus.LOST)
    set_beside(full, [number], None)
    assert row(full).beside is None
    assert len(reported) == 3


def test_undo_without_a_step_gives_a_sentence(sitting):
    with pytest.raises(Refused):
        undo(sitting)
    with pytest.raises(Refused):
        redo(sitting)
    assert next_steps(sitting) == ("", "")


def test_without_a_stored_shop_there_is_an_empty_one(sitting):
    assert read_terms(sitting).shop.mailers == ()
