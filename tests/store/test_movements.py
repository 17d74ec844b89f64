"""What comes and goes: counts are sums, by kind and by piece, and a counting adds the difference."""

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
def test_a_stamp_has_a_name_and_is_known_by_it(stamp: StampStock, name: str) -> None:
    assert stamp_name(stamp) == name
    assert stamp_named(name) == StampStock(stamp.kind, 0, stamp.value)


@pytest.mark.parametrize("name", ["", "eternal", "face x USD", "face 0.055 USD"])
def test_what_is_no_stamp_has_none(name: str) -> None:
    with pytest.raises(ValueError):  # noqa: PT011 - some words are Python's
        stamp_named(name)


def test_nothing_is_there_at_first(store: Store) -> None:
    assert there(store) == {}


def test_a_count_is_the_sum_of_what_moved(store: Store) -> None:
    moved(store, CountedKind.STAMP, {"forever": 20, "postcard": 3})
    moved(store, CountedKind.STAMP, {"forever": -2}, "used")
    assert there(store) == {"forever": 18, "postcard": 3}


def test_more_may_be_used_than_was_ever_counted_in(store: Store) -> None:
    moved(store, CountedKind.STAMP, {"forever": -2}, "used")
    assert there(store) == {"forever": -2}


def test_a_mailer_and_a_stamp_of_one_name_are_two_things(store: Store) -> None:
    moved(store, CountedKind.STAMP, {"forever": 1})
    moved(store, CountedKind.MAILER, {"forever": 5})
    assert [there(store, kind) for kind in CountedKind] == [{"forever": 1}, {"forever": 5}, {}]


def test_a_movement_says_when_what_and_why(store: Store) -> None:
    moved(store, CountedKind.LABEL, {"roll": -1}, "used")
    assert rows(store) == [("2026-03-02T09:00:02.000000+00:00", "label roll", "roll", -1, "used", None)]


def test_nothing_that_moved_leaves_no_step(store: Store) -> None:
    moved(store, CountedKind.STAMP, {"forever": 0})
    moved(store, CountedKind.STAMP, {})
    assert (rows(store), store.revision) == ([], 0)


def test_movements_tell_that_the_shop_and_the_piece_are_others_now(store: Store) -> None:
    (piece,) = with_pieces(store)
    moved(store, CountedKind.STAMP, {"forever": -1}, "used", piece)
    assert store.last_changes.shop
    assert store.last_changes.pieces == {piece}
    moved(store, CountedKind.STAMP, {"forever": 1})
    assert store.last_changes.pieces == frozenset()


def test_counting_anew_moves_the_difference_alone(store: Store) -> None:
    moved(store, CountedKind.STAMP, {"forever": 20, "postcard": 3, "two_ounce": 4})
    with store.act("count") as tx:
        recount(tx, CountedKind.STAMP, {"forever": 17, "postcard": 3, "face 0.05 USD": 6})
    assert there(store) == {"face 0.05 USD": 6, "forever": 17, "postcard": 3, "two_ounce": 4}
    assert [row[2:5] for row in rows(store)[3:]] == [("forever", -3, "counted"), ("face 0.05 USD", 6, "counted")]


def test_what_a_piece_used_is_counted_up(store: Store) -> None:
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


def test_what_was_brought_back_was_not_used(store: Store) -> None:
    one, other = with_pieces(store, 2)
    moved(store, CountedKind.STAMP, {"forever": -1}, "used", one)
    moved(store, CountedKind.STAMP, {"forever": -2}, "used", other)
    undo.undo(store)
    with store.reading() as conn:
        assert used_by_piece(conn, CountedKind.STAMP, [other]) == {}
        assert used_by_piece(conn, CountedKind.STAMP) == {one: {"forever": 1}}
    assert there(store) == {"forever": -1}


def test_a_stamp_nobody_put_on_a_piece_is_used_by_none(store: Store) -> None:
    moved(store, CountedKind.STAMP, {"forever": -1}, "spoiled")
    with store.reading() as conn:
        assert used_by_piece(conn, CountedKind.STAMP) == {}


@pytest.mark.parametrize(("asked", "found"), [([], []), ([2], [2]), ([1, 2, 3], [1, 2, 3]), ([3, 999], [3])])
def test_some_pieces_are_asked_for_in_as_many_questions_as_it_takes(
    store: Store, asked: list[int], found: list[int], monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(ranges, "CHUNK", 2)
    for piece in with_pieces(store, 3):
        moved(store, CountedKind.STAMP, {"forever": -piece}, "used", piece)
    with store.reading() as conn:
        assert used_by_piece(conn, CountedKind.STAMP, asked) == {piece: {"forever": piece} for piece in found}


def test_what_moved_is_only_ever_added_to(store: Store) -> None:
    moved(store, CountedKind.STAMP, {"forever": 5})
    before = rows(store)
    undo.undo(store)
    assert rows(store)[:1] == before
    assert rows(store)[1][3] == -5
    assert movements.CountedKind.STAMP.value == "stamp"
