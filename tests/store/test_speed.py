"""Ten thousand orders take no noticeable time. Limits in processor seconds on a small desktop; fails at three times
that.
"""

from __future__ import annotations

import time
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from pathlib import Path

from desk.domain.orders.piece import PieceKey
from desk.store.store import Store
from desk.store.tables import orders, pieces
from tests.store.samples import SIZE, orders_of, weighing

MANY = 10_000


@contextmanager
def within(aim: float) -> Iterator[None]:
    started = time.process_time()
    yield
    assert time.process_time() - started < 3 * aim


def test_ten_thousand_orders_are_stored_in_time(tmp_path: Path, opening: Callable[..., Store]) -> None:
    store = opening(tmp_path / "batch.store")
    imported = orders_of(MANY)
    with within(1.5), store.act("take in") as tx:
        assert len(orders.save(tx, imported).new) == MANY
    with within(1.0), store.act("take in again") as tx:
        assert orders.save(tx, imported).same == MANY
    with store.act("pieces") as tx:
        ids = pieces.ensure_pieces(tx, [PieceKey(order.number) for order in imported])
    with within(1.5), store.act("weights") as tx:
        assert len(pieces.record_many(tx, dict.fromkeys(ids.values(), weighing(size=SIZE))).new) == MANY
    with within(1.5), store.reading() as conn:
        assert [found.order for found in orders.all_orders(conn)] == imported
        assert len(pieces.all_pieces(conn)) == MANY
