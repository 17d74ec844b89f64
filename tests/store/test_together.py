"""Pieces packed into another, on both databases; orders compared with the store."""

from __future__ import annotations

import pytest

from desk.domain.faults import Refused
from desk.domain.money import Money
from desk.domain.orders.piece import PieceKey
from desk.store import undo
from desk.store.store import Store
from desk.store.tables import orders, pieces
from desk.store.tables.orders import OrderComparison
from tests.store.samples import order, weighing

ONE, TWO = PieceKey("1"), PieceKey("2")


@pytest.fixture
def ids(store: Store) -> dict[PieceKey, int]:
    with store.act("take in") as tx:
        orders.save(tx, [order("1"), order("2"), order("3")])
        found = pieces.ensure_pieces(tx, [ONE, TWO, PieceKey("3")])
        pieces.record(tx, found[ONE], weighing())
    return found


def pack(store: Store, ids: dict[PieceKey, int]) -> None:
    with store.act("pack") as tx:
        assert pieces.pack_into(tx, ids[ONE], [ids[TWO]]) == sorted([ids[ONE], ids[TWO]])


def together(store: Store) -> dict[str, int | None]:
    with store.reading() as conn:
        return {piece.key.order: piece.together_with for piece in pieces.all_pieces(conn)}


def test_a_packed_piece_and_its_container_know_each_other(store: Store, ids: dict[PieceKey, int]) -> None:
    pack(store, ids)
    assert store.last_changes.pieces == {ids[ONE], ids[TWO]}
    assert together(store) == {"1": None, "2": ids[ONE], "3": None}
    with store.reading() as conn:
        assert [piece.key for piece in pieces.inside(conn, [ids[ONE]])] == [TWO]
        assert pieces.inside(conn, [ids[TWO]]) == []
        assert pieces.piece(conn, ids[ONE]).weighing is None
        assert pieces.numbers_to_weigh(conn) == ["1", "3"]


def test_a_packed_piece_leads_to_the_piece_that_holds_it(store: Store, ids: dict[PieceKey, int]) -> None:
    pack(store, ids)
    with store.act("again") as tx:
        assert pieces.ensure_pieces(tx, [ONE, TWO]) == {ONE: ids[ONE], TWO: ids[ONE]}
        assert {piece.key for piece in pieces.of_orders(tx.conn, [1, 2])} == {ONE, TWO}


def test_undo_reports_both_pieces_and_restores_the_weighing(store: Store, ids: dict[PieceKey, int]) -> None:
    pack(store, ids)
    undo.undo(store)
    assert store.last_changes.pieces == {ids[ONE], ids[TWO]}
    assert set(together(store).values()) == {None}
    with store.reading() as conn:
        assert pieces.piece(conn, ids[ONE]).weighing == weighing()


def test_unpacking_reports_both_pieces_as_changed(store: Store, ids: dict[PieceKey, int]) -> None:
    pack(store, ids)
    with store.act("unpack") as tx:
        assert pieces.unpack(tx, [ids[TWO]]) == [ids[TWO]]
        assert pieces.unpack(tx, [ids[ONE]]) == []
    assert store.last_changes.pieces >= {ids[ONE], ids[TWO]}
    assert set(together(store).values()) == {None}


def test_a_containing_piece_cannot_be_undone_while_it_holds_others(
    store: Store, ids: dict[PieceKey, int], opening: object, where: object
) -> None:
    """Another bench has packed something into a piece, so the import that created it cannot be undone."""
    other = opening(where, "bench 2")  # type: ignore[operator]
    with other.act("pack") as tx:
        pieces.pack_into(tx, ids[PieceKey("3")], [ids[TWO]])
    with pytest.raises(Refused, match="cannot be undone"):
        undo.undo(store)
    assert together(store)["2"] == ids[PieceKey("3")]


def test_imported_orders_are_compared_with_stored_ones(store: Store, ids: dict[PieceKey, int]) -> None:
    higher, new = order("2", shipping_paid=Money(900)), order("4")
    before = store.revision
    with store.reading() as conn:
        assert orders.compare_with_stored(conn, [order("1"), order("2"), higher, new]) == OrderComparison(
            (new,), (order("1"),), {2: higher}
        )
        assert orders.ids_of(conn, ["1", "3", "9"]) == {"1": 1, "3": 3}
        assert orders.some_orders(conn, [2, 9])[2].order == order("2")
    assert store.revision == before
