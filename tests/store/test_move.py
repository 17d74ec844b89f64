"""Moving a whole store between file and server, and reporting a failure."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

import pytest

from desk.domain.faults import Refused
from desk.store import move, schema, undo
from desk.store.move import fingerprint
from desk.store.store import Store
from desk.store.tables import hand_overs, orders, pieces, shop
from tests.store.samples import SHOP, TickingClock, order, weighing, with_pieces

Opening = Callable[..., Store]


def filled(store: Store) -> None:
    with store.act("shop") as tx:
        shop.save(tx, SHOP)
    with_pieces(store, 3)
    with store.act("weigh") as tx:
        pieces.record_many(tx, {1: weighing("1"), 2: weighing("2.50", stiff=True)})
    with store.act("pack") as tx:
        pieces.pack_into(tx, 3, [1])
    with store.act("stamps") as tx:
        hand_overs.put_postage_on(tx, [2])


def prints(store: Store) -> dict[str, tuple[int, str]]:
    with store.reading() as conn:
        return {table.name: fingerprint(conn, table) for table in schema.metadata.sorted_tables}


def test_a_store_is_moved_from_file_to_server_and_back(tmp_path: Path, postgres_where: str, opening: Opening) -> None:
    filled(opening(tmp_path / "a.sqlite"))
    counts = move.move(tmp_path / "a.sqlite", postgres_where, TickingClock())
    assert (counts["orders"], counts["pieces"], counts["weighings"]) == (3, 3, 2)
    move.move(postgres_where, tmp_path / "b.sqlite", TickingClock())
    first, server, back = (opening(where) for where in (tmp_path / "a.sqlite", postgres_where, tmp_path / "b.sqlite"))
    assert prints(first) == prints(server) == prints(back)
    assert undo.undo(server).name == "stamps"
    with server.act("and on") as tx:
        orders.save(tx, [order("later")])


def test_nothing_is_moved_if_a_table_does_not_arrive(
    tmp_path: Path, opening: Opening, monkeypatch: pytest.MonkeyPatch
) -> None:
    filled(opening(tmp_path / "a.sqlite"))
    real = move._copy

    def loses(conn: object, into: object, table: object) -> None:
        if table is not schema.weighings:
            real(conn, into, table)  # type: ignore[arg-type]

    monkeypatch.setattr(move, "_copy", loses)
    with pytest.raises(Refused, match="Table weighings did not arrive completely"):
        move.move(tmp_path / "a.sqlite", tmp_path / "b.sqlite", TickingClock())
    with opening(tmp_path / "b.sqlite").reading() as conn:
        assert orders.all_orders(conn) == []
