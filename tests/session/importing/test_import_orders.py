"""Imported orders are stored with their first piece in one step; the same again changes nothing."""

from dataclasses import replace

from desk.domain.money import Money
from desk.domain.places.address import Address
from desk.session.importing.import_orders import import_orders, import_shop
from desk.session.pile.stored_cases import read_stored, read_terms
from desk.session.undo import next_steps, undo
from desk.session.unreported import unreported
from tests.session.made import order, shop

ORDERS = (order("1"), order("2"))


def references(sitting):
    return [one.case.key.reference for one in read_stored(sitting)]


def test_orders_are_imported_with_their_first_piece_in_one_step(sitting):
    heard = []
    sitting.listeners.append(heard.append)
    taken = import_orders(sitting, ORDERS)
    assert (taken.new, taken.changed) == (("1", "2"), ())
    assert references(sitting) == ["1-1", "2-1"]
    assert (sitting.store.revision, next_steps(sitting)[0]) == (1, "Orders imported")
    assert [(len(changes.orders), len(changes.pieces)) for changes in heard] == [(2, 2)]
    undo(sitting)
    assert references(sitting) == []


def test_the_same_orders_in_another_sequence_change_nothing(sitting):
    import_orders(sitting, ORDERS)
    assert import_orders(sitting, ORDERS[::-1]).changed == ()
    assert (sitting.store.revision, unreported(sitting)) == (1, [])


def test_a_changed_order_is_reported_and_a_new_one_is_not(sitting):
    import_orders(sitting, ORDERS)
    taken = import_orders(sitting, [replace(ORDERS[1], shipping_paid=Money(1)), order("3")])
    assert (taken.new, taken.changed) == (("3",), ("2",))
    assert unreported(sitting) == [{"order": "2"}]
    assert references(sitting) == ["1-1", "2-1", "3-1"]


def test_undo_removes_the_change_to_report(sitting):
    import_orders(sitting, ORDERS)
    import_orders(sitting, [replace(ORDERS[1], shipping_paid=Money(1))])
    undo(sitting)
    assert unreported(sitting) == []


def test_no_orders_make_no_step(sitting):
    assert import_orders(sitting, []).new == ()
    assert sitting.store.revision == 0


def test_a_shop_is_saved_completely_and_the_same_again_changes_nothing(sitting):
    import_shop(sitting, shop())
    assert read_terms(sitting).shop == shop()
    import_shop(sitting, shop())
    assert sitting.store.revision == 1
    moved = replace(shop(), sender=Address("Sorrel Street Bindery", address1="2 Sorrel Street", country="US"))
    import_shop(sitting, moved)
    assert read_terms(sitting).shop == moved
    undo(sitting)
    assert read_terms(sitting).shop == shop()
