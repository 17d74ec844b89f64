"""Orders are imported once, identified by source and number."""

from __future__ import annotations

import hashlib
from dataclasses import replace

import pytest
from sqlalchemy import select

from desk.domain.changes import Changes
from desk.domain.faults import Refused
from desk.domain.finding import Code, Finding, Severity
from desk.domain.money import Money
from desk.domain.places.address import Address
from desk.store import schema, undo
from desk.store.records import to_text, without_version
from desk.store.store import Store
from desk.store.tables import orders
from desk.store.tables.orders import SavedOrders, StoredOrder
from tests.store.samples import order, orders_of


def take_in(store: Store, *some: orders.Order) -> SavedOrders:
    with store.act("take in") as tx:
        return orders.save(tx, some)


def kept(store: Store) -> list[StoredOrder]:
    with store.reading() as conn:
        return orders.all_orders(conn)


def test_new_orders_are_read_back_unchanged(store: Store) -> None:
    assert take_in(store, order("1001"), order("1002")) == SavedOrders(new=("1001", "1002"))
    assert kept(store) == [StoredOrder(1, 1, order("1001")), StoredOrder(2, 1, order("1002"))]
    assert store.last_changes == Changes(orders=frozenset({1, 2}))


def test_unchanged_orders_write_nothing(store: Store) -> None:
    take_in(store, order())
    before = store.revision

    assert take_in(store, order()) == SavedOrders(same=1)
    assert store.revision == before
    assert store.last_changes == Changes()


def test_a_changed_order_replaces_the_old_one_and_is_reported(store: Store) -> None:
    take_in(store, *orders_of(3))
    higher = order("1001", shipping_paid=Money(900))

    assert take_in(store, order("1000"), higher) == SavedOrders(same=1, changed=("1001",))
    assert [(one.version, one.order.shipping_paid.minor) for one in kept(store)] == [(1, 450), (2, 900), (1, 450)]


def test_two_sources_may_share_a_number_and_the_later_order_is_found(store: Store) -> None:
    take_in(store, order("7", "fair"), order("7", "post"))

    with store.reading() as conn:
        found = orders.ids_of(conn, ["7", "8"])
        assert found.keys() == {"7"}
        assert orders.order(conn, found["7"]).order.source == "post"


def test_of_two_orders_with_one_number_in_an_import_the_later_is_used(store: Store) -> None:
    assert take_in(store, order(), order(status="paid")) == SavedOrders(new=("1001",))
    assert kept(store)[0].order.status == "paid"


def test_an_order_is_found_by_its_id(store: Store) -> None:
    take_in(store, order())

    with store.reading() as conn:
        assert orders.order(conn, 1).order == order()
        with pytest.raises(KeyError):
            orders.order(conn, 2)


def test_text_in_any_script_is_kept_unchanged(store: Store) -> None:
    odd = order("'; DROP TABLE orders; --", buyer_note='Ünï 漢字 שלום " \\ \t\n☃ %s :x')
    take_in(store, odd)

    assert kept(store)[0].order == odd


def test_importing_many_orders_writes_a_short_journal_row(store: Store) -> None:
    take_in(store, *orders_of(2000))

    with store.reading() as conn:
        images = conn.execute(select(schema.journal.c.images)).scalar_one()
    assert images == '{"orders":{"new":[[1,[[1,2000]]]]}}'


def forget(store: Store, *ids: int) -> int:
    with store.act("forget addresses") as tx:
        return orders.forget_addresses(tx, ids)


def test_deleted_addresses_are_nowhere_in_the_store(store: Store) -> None:
    take_in(store, order(buyer_note="by the blue door"))
    take_in(store, order(buyer_note="by the red door"))

    assert forget(store, 1) == 1
    assert kept(store)[0].order.address == Address(country="US")
    with store.reading() as conn:
        everything = "".join(
            str(tuple(row)) for table in schema.metadata.sorted_tables for row in conn.execute(select(table))
        )
    assert not any(word in everything for word in ("Quill", "Vell", "97001", "ada@", "door"))


def test_deleting_addresses_is_final(store: Store) -> None:
    take_in(store, order())
    forget(store, 1)

    with pytest.raises(Refused, match="addresses can't be restored"):
        undo.undo(store)
    with store.reading() as conn:
        finals = set(conn.execute(select(schema.journal.c.final)).scalars())
    assert "Addresses have since been deleted, so this step can't be undone." in finals


def test_deleting_addresses_twice_changes_nothing(store: Store) -> None:
    take_in(store, order())
    forget(store, 1)
    before = store.revision

    assert forget(store, 1) == 0
    assert store.revision == before


def test_an_order_without_its_address_is_unchanged_when_imported_again(store: Store) -> None:
    take_in(store, order())
    forget(store, 1)

    assert take_in(store, order()) == SavedOrders(same=1)


def test_an_order_in_an_older_format_is_unchanged_and_its_address_stays_deleted(store: Store) -> None:
    """A record with a new field has another digest; importing its file again must change nothing."""
    with store.act("take in") as tx:
        orders.save(tx, [order("1")])
        tx.update(schema.orders, {1: {"digest": "of the older form"}})
    with store.reading() as conn:
        assert orders.compare_with_stored(conn, [order("1")]).same == (order("1"),)
    with store.act("forget") as tx:
        orders.forget_addresses(tx, [1])
    with store.reading() as conn:
        held = orders.compare_with_stored(conn, [order("1"), order("1", buyer_note="another")])
        assert (held.same, held.changed) == ((order("1", buyer_note="another"),), {})
        assert list(orders.compare_with_stored(conn, [order("1", shipping_choice="another")]).changed) == [1]


def test_numbers_are_found_by_their_last_digits(store: Store) -> None:
    take_in(store, order("TK-1002"), order("AB-1002"), order("10023"), order("1_02"))
    with store.reading() as conn:
        assert orders.ids_ending(conn, "1002") == {"TK-1002": 1, "AB-1002": 2}
        assert orders.ids_ending(conn, "_02") == {"1_02": 4}


@pytest.mark.parametrize(
    ("text", "ids"),
    [
        ("solène", [2]),
        ("SOLÈNE", [2]),
        ("quill row", [1]),
        ("1001", [1]),
        ("%", []),
        ('"', []),
        ("long”", [1, 2]),
        ("country", []),
        ("item", []),
        ("city", []),
    ],
)
def test_orders_are_found_by_their_text(store: Store, text: str, ids: list[int]) -> None:
    take_in(store, order("1001"), order("1002", address=Address("Solène Mercadier", country="FR")))
    with store.reading() as conn:
        assert sorted(orders.ids_with_text(conn, text)) == ids


def test_orders_to_a_country_are_read_from_a_selection(store: Store) -> None:
    france = Address("Solène Mercadier", country="FR")
    take_in(store, order("1"), order("2", address=france), order("3", address=france))
    with store.reading() as conn:
        assert list(orders.to_countries(conn, ["FR"], [1, 2])) == [2]
        assert orders.to_countries(conn, [], [1, 2, 3]) == {}


@pytest.mark.parametrize(
    ("typed", "imported", "kept_phone"),
    [("555-0100", "", "555-0100"), ("555-0100", "555-0199", "555-0199"), ("", "", "")],
)
def test_a_phone_number_typed_by_hand_stays_until_the_list_has_one(
    store: Store, typed: str, imported: str, kept_phone: str
) -> None:
    def called(phone: str) -> orders.Order:
        return order("1001", address=replace(order().address, phone=phone))

    take_in(store, called(typed))
    take_in(store, called(imported))
    assert kept(store)[0].order.address.phone == kept_phone


def test_an_order_changed_outside_the_program_is_noticed_and_a_deleted_address_is_not(store: Store) -> None:
    take_in(store, order("1001"), order("1002"))
    with store.act("forget") as tx:
        orders.forget_addresses(tx, [1])
    with store.reading() as conn:
        orders.check_all(conn)
    with store.engine.begin() as conn:
        row = schema.orders
        content = conn.execute(select(row.c.content).where(row.c.id == 2)).scalar_one()
        conn.execute(
            row.update().where(row.c.id == 2).values(content=content.replace("Bend", "Bond").replace("1 ", "2 "))
        )
    with store.reading() as conn, pytest.raises(ValueError, match="order 2 is not as it was saved"):
        orders.check_all(conn)


def test_an_order_corrected_under_an_older_digest_is_unchanged(store: Store) -> None:
    take_in(store, order("1001"))
    corrected = order("1001", findings=(Finding(Code.EDITED_BY_HAND, Severity.NOTE, {"what": "the recipient"}, ""),))
    with store.act("older program") as tx:
        tx.update(schema.orders, {1: {"content": to_text(corrected)}})
    with store.reading() as conn:
        orders.check_all(conn)


def test_a_digest_stays_the_same_from_version_to_version(store: Store) -> None:
    """An order whose digest changed would be imported again as a changed one."""
    take_in(store, order("1001"))
    with store.reading() as conn:
        row = conn.execute(select(schema.orders)).one()
    assert row.digest == hashlib.blake2b(without_version(row.content).encode(), digest_size=16).hexdigest()
