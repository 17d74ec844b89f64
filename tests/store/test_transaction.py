"""Transactions: ids used once, rising versions, and the images undo needs for every change of a row."""

from __future__ import annotations

from collections.abc import Callable
from contextlib import suppress
from typing import Any

import pytest
from sqlalchemy import Table, select

from desk.domain.changes import Changes
from desk.store import schema
from desk.store.store import Store
from desk.store.transaction import FIRST_VERSION, Transaction

Work = Callable[[Transaction], object]
SHOP = schema.shop_rows
A, B = ({"kind": "mailer", "name": name, "place": place, "content": "{}"} for place, name in enumerate("ab"))


class StopHere(Exception):
    """Raised to abandon the step."""


def step(store: Store, work: Work) -> Any:
    with store.act("step") as tx:
        return work(tx)


def images(store: Store, work: Work) -> dict[str, Any]:
    """Return the images of a step that does that work."""

    def both(tx: Transaction) -> dict[str, Any]:
        work(tx)
        return tx.images()

    found: dict[str, Any] = step(store, both)
    return found


def rows(store: Store, table: Table = SHOP) -> list[dict[str, Any]]:
    with store.reading() as conn:
        return [dict(row) for row in conn.execute(select(table).order_by(table.c.id)).mappings()]


def test_new_rows_get_fresh_ids_in_their_order(store: Store) -> None:
    assert list(step(store, lambda tx: tx.insert(SHOP, [A, B]))) == [1, 2]
    assert [(row["id"], row["name"], row["version"], row["revision"]) for row in rows(store)] == [
        (1, "a", FIRST_VERSION, 1),
        (2, "b", FIRST_VERSION, 1),
    ]


def test_a_step_without_rows_is_not_recorded(store: Store) -> None:
    assert not step(store, lambda tx: tx.insert(SHOP, []))
    step(store, lambda tx: tx.put_back(SHOP, []))
    step(store, lambda tx: tx.update(SHOP, {}))
    step(store, lambda tx: tx.delete(SHOP, []))
    assert (rows(store), store.revision) == ([], 0)


def test_an_id_is_never_reused_even_if_its_row_is_gone(store: Store) -> None:
    step(store, lambda tx: tx.insert(SHOP, [A]))
    step(store, lambda tx: tx.delete(SHOP, [1]))
    assert list(step(store, lambda tx: tx.insert(SHOP, [A]))) == [2]


def test_each_table_has_its_own_ids(store: Store) -> None:
    taken = step(store, lambda tx: [list(tx.take_ids(name, count)) for name, count in [("x", 3), ("y", 1), ("x", 2)]])
    assert taken == [[1, 2, 3], [1], [4, 5]]


def test_a_failed_step_releases_its_ids_and_number(store: Store) -> None:
    def fails(tx: Transaction) -> None:
        tx.insert(SHOP, [A])
        assert tx.revision == 1
        raise StopHere

    with suppress(StopHere):
        step(store, fails)
    assert list(step(store, lambda tx: tx.insert(SHOP, [B]))) == [1]
    assert store.revision == 1


def test_append_only_rows_carry_no_version(store: Store) -> None:
    row = {"at": "t", "kind": "stamp", "name": "forever", "change": 1, "why": "bought"}
    step(store, lambda tx: tx.insert(schema.movements, [row]))
    assert rows(store, schema.movements) == [{"id": 1, "piece_id": None, **row}]


def test_a_changed_row_has_a_higher_version_and_the_steps_number(store: Store) -> None:
    step(store, lambda tx: tx.insert(SHOP, [A, B]))
    assert step(store, lambda tx: tx.update(SHOP, {2: {"place": 9}})) == [2]
    assert [(row["place"], row["version"], row["revision"]) for row in rows(store)] == [(0, 1, 1), (9, 2, 2)]


def test_only_rows_that_would_change_are_written(store: Store) -> None:
    step(store, lambda tx: tx.insert(SHOP, [A, B]))
    assert step(store, lambda tx: tx.update(SHOP, {1: {"place": 0}, 2: {"place": 7}})) == [2]
    assert step(store, lambda tx: tx.update(SHOP, {1: {"place": 0}, 2: {"place": 7}})) == []
    assert store.revision == 2


@pytest.mark.parametrize(
    "work",
    [
        lambda tx: tx.update(SHOP, {1: {"place": 5}, 9: {"place": 5}}),
        lambda tx: tx.delete(SHOP, [1, 9]),
        lambda tx: tx.rows(SHOP, [9]),
    ],
    ids=["update", "delete", "rows"],
)
def test_a_missing_row_is_named_and_nothing_is_written(store: Store, work: Work) -> None:
    step(store, lambda tx: tx.insert(SHOP, [A]))
    before = rows(store)
    with pytest.raises(KeyError, match="9"):
        step(store, work)
    assert rows(store) == before


def test_rows_are_returned_in_the_requested_order(store: Store) -> None:
    step(store, lambda tx: tx.insert(SHOP, [A, B]))
    assert list(step(store, lambda tx: tx.rows(SHOP, [2, 1]))) == [2, 1]


def test_the_images_of_new_rows_are_their_ids(store: Store) -> None:
    assert images(store, lambda tx: tx.insert(SHOP, [A, B])) == {"shop_rows": {"new": [[1, [[1, 2]]]]}}


def test_the_images_of_a_change_are_only_the_old_values(store: Store) -> None:
    step(store, lambda tx: tx.insert(SHOP, [A]))
    assert images(store, lambda tx: tx.update(SHOP, {1: {"place": 5}})) == {
        "shop_rows": {"changed": [[1, 2, {"revision": 1, "place": 0}]]}
    }


def test_a_row_changed_twice_in_a_step_remembers_its_value_before_the_step(store: Store) -> None:
    step(store, lambda tx: tx.insert(SHOP, [A]))

    def twice(tx: Transaction) -> None:
        tx.update(SHOP, {1: {"place": 5}})
        tx.update(SHOP, {1: {"place": 6, "content": "[]"}})

    assert images(store, twice) == {"shop_rows": {"changed": [[1, 2, {"revision": 1, "place": 0, "content": "{}"}]]}}
    assert rows(store)[0]["version"] == 3


def test_the_image_of_a_deleted_row_is_the_whole_row_before_the_step(store: Store) -> None:
    step(store, lambda tx: tx.insert(SHOP, [A]))
    (before,) = rows(store)

    def change_and_take_away(tx: Transaction) -> None:
        tx.update(SHOP, {1: {"place": 5}})
        tx.delete(SHOP, [1])

    found = images(store, change_and_take_away)
    assert found == {"shop_rows": {"gone": [before | {"version": 2}]}}
    assert rows(store) == []


def test_a_row_created_and_removed_in_one_step_leaves_no_trace(store: Store) -> None:
    def make_and_take_away(tx: Transaction) -> None:
        (number,) = tx.insert(SHOP, [A])
        tx.update(SHOP, {number: {"place": 5}})
        tx.delete(SHOP, [number])

    assert images(store, make_and_take_away) == {}
    assert store.revision == 0


def test_a_new_row_that_is_changed_in_its_step_is_still_new(store: Store) -> None:
    def make_and_change(tx: Transaction) -> None:
        tx.insert(SHOP, [A])
        tx.update(SHOP, {1: {"place": 5}})

    assert images(store, make_and_change) == {"shop_rows": {"new": [[1, [[1, 1]]]]}}


def test_restored_rows_keep_their_ids_and_revisions(store: Store) -> None:
    whole = [{"id": number, "version": 4, "revision": number, **row} for number, row in ((7, A), (8, B))]
    assert images(store, lambda tx: tx.put_back(SHOP, whole)) == {"shop_rows": {"new": [[7, [[7, 7]]], [8, [[8, 8]]]]}}
    assert rows(store) == whole


def test_the_number_of_a_step_is_taken_once_by_its_first_write(store: Store) -> None:
    step(store, lambda tx: tx.insert(SHOP, [A]))
    assert step(store, lambda tx: (tx.insert(SHOP, [B]), tx.revision, tx.revision))[1:] == (2, 2)
    assert step(store, lambda tx: tx.rows(SHOP, [1]))[1]["name"] == "a"
    assert store.revision == 2


ORDER = {"source": "fair", "number": "1", "digest": "d", "content": "{}"}
PIECE = {"order_id": 1, "number": 1, "service_override": "", "mailer_override": "", "tracking": ""}


def with_two_pieces(store: Store) -> None:
    step(
        store, lambda tx: (tx.insert(schema.orders, [ORDER]), tx.insert(schema.pieces, [PIECE, PIECE | {"number": 2}]))
    )


@pytest.mark.parametrize(
    ("work", "touched"),
    [
        (lambda tx: tx.insert(SHOP, [A]), Changes(shop=True)),
        (lambda tx: tx.insert(schema.settings, [{"name": "n", "content": "{}"}]), Changes(settings=True)),
        (lambda tx: tx.update(schema.orders, {1: {"digest": "e"}}), Changes(orders=frozenset({1}))),
        (lambda tx: tx.update(schema.pieces, {2: {"tracking": "9"}}), Changes(pieces=frozenset({2}))),
        (lambda tx: tx.update(schema.pieces, {2: {"together_with": 1}}), Changes(pieces=frozenset({1, 2}))),
        (
            lambda tx: tx.insert(schema.answers, [{"piece_id": 2, "code": "c", "at": "t"}]),
            Changes(pieces=frozenset({2})),
        ),
        (lambda tx: tx.delete(schema.pieces, [2]), Changes(pieces=frozenset({2}))),
        (lambda tx: tx.update(schema.pieces, {2: {"tracking": ""}}), Changes()),
    ],
)
def test_changed_rows_are_reported(store: Store, work: Work, touched: Changes) -> None:
    with_two_pieces(store)
    step(store, work)
    assert store.last_changes == touched


def test_taking_a_piece_out_of_another_reports_both(store: Store) -> None:
    with_two_pieces(store)
    step(store, lambda tx: tx.update(schema.pieces, {2: {"together_with": 1}}))
    step(store, lambda tx: tx.update(schema.pieces, {2: {"together_with": None}}))
    assert store.last_changes.pieces == {1, 2}
