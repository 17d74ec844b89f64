"""Movements of stock: counts are sums, by kind and by piece, and a new count adds the difference."""

from __future__ import annotations

import pytest
from sqlalchemy import select

from desk.domain.money import Money
from desk.domain.shop.stamp import StampKind, StampStock
from desk.store import ranges, schema, undo
from desk.store.store import Store
from desk.store.tables import movements
from desk.store.tables.movements import CountedKind, move, on_hand, recount, stamp_name, stamp_named, used_by_piece
from tests.store.samples import with_pieces

STAMPS = [
    (StampStock(StampKind.FOREVER, 9), "forever"),
    (StampStock(StampKind.ADDITIONAL_OUNCE, 0), "additional_ounce"),
    (StampStock(StampKind.FACE, 2, Money(5)), "face 0.05 USD"),
    (StampStock(StampKind.FACE, 2, Money(150, "JPY")), "face 150 JPY"),
]


def moved(
    store: Store, kind: CountedKind, counts: dict[str, int], why: str = "bought", piece: int | None = None
) -> None:
    with store.act("move") as tx:
        move(tx, kind, counts, why, piece)


def there(store: Store, kind: CountedKind = CountedKind.STAMP) -> dict[str, int]:
    with store.reading() as conn:
        return on_hand(conn, kind)


def rows(store: Store) -> list[tuple[object, ...]]:
    row = schema.movements.c
    wanted = select(row.at, row.kind, row.name, row.change, row.why, row.piece_id).order_by(row.id)
    with store.reading() as conn:
        return [tuple(found) for found in conn.execute(wanted)]


@pytest.mark.parametrize(("stamp", "name"), STAMPS)
def test_a_stamp_is_found_by_its_name(stamp: StampStock, name: str) -> None:
    assert stamp_name(stamp) == name
    assert stamp_named(name) == StampStock(stamp.kind, 0, stamp.value)


@pytest.mark.parametrize("name", ["", "eternal", "face x USD", "face 0.055 USD"])
def test_a_mailer_has_no_stamp_name(name: str) -> None:
    with pytest.raises(ValueError):  # noqa: PT011 - some words are Python's
        stamp_named(name)


def test_counts_are_zero_at_first(store: Store) -> None:
    assert there(store) == {}


def test_a_count_is_the_sum_of_its_movements(store: Store) -> None:
    moved(store, CountedKind.STAMP, {"forever": 20, "postcard": 3})
    moved(store, CountedKind.STAMP, {"forever": -2}, "used")
    assert there(store) == {"forever": 18, "postcard": 3}


def test_more_may_be_used_than_were_counted(store: Store) -> None:
    moved(store, CountedKind.STAMP, {"forever": -2}, "used")
    assert there(store) == {"forever": -2}


def test_a_mailer_and_a_stamp_with_one_name_are_counted_separately(store: Store) -> None:
    moved(store, CountedKind.STAMP, {"forever": 1})
    moved(store, CountedKind.MAILER, {"forever": 5})
    assert [there(store, kind) for kind in CountedKind] == [{"forever": 1}, {"forever": 5}, {}]


def test_a_movement_has_its_time_item_and_reason(store: Store) -> None:
    moved(store, CountedKind.LABEL, {"roll": -1}, "used")
    assert rows(store) == [("2026-03-02T09:00:02.000000+00:00", "label roll", "roll", -1, "used", None)]


def test_without_movements_there_is_no_step(store: Store) -> None:
    moved(store, CountedKind.STAMP, {"forever": 0})
    moved(store, CountedKind.STAMP, {})
    assert (rows(store), store.revision) == ([], 0)


def test_movements_report_shop_and_piece_as_changed(store: Store) -> None:
    (piece,) = with_pieces(store)
    moved(store, CountedKind.STAMP, {"forever": -1}, "used", piece)
    assert store.last_changes.shop
    assert store.last_changes.pieces == {piece}
    moved(store, CountedKind.STAMP, {"forever": 1})
    assert store.last_changes.pieces == frozenset()


def test_a_new_count_records_only_the_difference(store: Store) -> None:
    moved(store, CountedKind.STAMP, {"forever": 20, "postcard": 3, "two_ounce": 4})
    with store.act("count") as tx:
        recount(tx, CountedKind.STAMP, {"forever": 17, "postcard": 3, "face 0.05 USD": 6})
    assert there(store) == {"face 0.05 USD": 6, "forever": 17, "postcard": 3, "two_ounce": 4}
    assert [row[2:5] for row in rows(store)[3:]] == [("forever", -3, "counted"), ("face 0.05 USD", 6, "counted")]


def test_the_material_a_piece_used_is_counted(store: Store) -> None:
    one, other = with_pieces(store, 2)
    moved(store, CountedKind.STAMP, {"forever": -2, "postcard": -1}, "used", one)
    moved(store, CountedKind.STAMP, {"forever": -1}, "used", one)
    moved(store, CountedKind.MAILER, {"Box": -1}, "used", one)
    moved(store, CountedKind.STAMP, {"forever": -4}, "used", other)
    with store.reading() as conn:
        assert used_by_piece(conn, CountedKind.STAMP, [one]) == {one: {"forever": 3, "postcard": 1}}
        assert used_by_piece(conn, CountedKind.MAILER, [one]) == {one: {"Box": 1}}
        assert used_by_piece(conn, CountedKind.STAMP, [999]) == {}
        assert used_by_piece(conn, CountedKind.STAMP) == {one: {"forever": 3, "postcard": 1}, other: {"forever": 4}}


def test_returned_stamps_are_not_used(store: Store) -> None:
    one, other = with_pieces(store, 2)
    moved(store, CountedKind.STAMP, {"forever": -1}, "used", one)
    moved(store, CountedKind.STAMP, {"forever": -2}, "used", other)
    undo.undo(store)
    with store.reading() as conn:
        assert used_by_piece(conn, CountedKind.STAMP, [other]) == {}
        assert used_by_piece(conn, CountedKind.STAMP) == {one: {"forever": 1}}
    assert there(store) == {"forever": -1}


def test_a_stamp_on_no_piece_is_not_used(store: Store) -> None:
    moved(store, CountedKind.STAMP, {"forever": -1}, "spoiled")
    with store.reading() as conn:
        assert used_by_piece(conn, CountedKind.STAMP) == {}


@pytest.mark.parametrize(("asked", "found"), [([], []), ([2], [2]), ([1, 2, 3], [1, 2, 3]), ([3, 999], [3])])
def test_many_pieces_are_read_in_several_queries(
    store: Store, asked: list[int], found: list[int], monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(ranges, "CHUNK", 2)
    for piece in with_pieces(store, 3):
        moved(store, CountedKind.STAMP, {"forever": -piece}, "used", piece)
    with store.reading() as conn:
        assert used_by_piece(conn, CountedKind.STAMP, asked) == {piece: {"forever": piece} for piece in found}


def test_movements_are_never_changed(store: Store) -> None:
    moved(store, CountedKind.STAMP, {"forever": 5})
    before = rows(store)
    undo.undo(store)
    assert rows(store)[:1] == before
    assert rows(store)[1][3] == -5
    assert movements.CountedKind.STAMP.value == "stamp"
