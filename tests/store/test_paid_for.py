"""A piece that is paid for keeps its weighing, whichever store function is asked to change it."""

from __future__ import annotations

from collections.abc import Callable

import pytest

from desk.domain.faults import Refused
from desk.store import schema
from desk.store.store import Store
from desk.store.tables import hand_overs, pieces
from desk.store.tables.pieces import Recorded
from desk.store.transaction import Transaction
from tests.store.samples import weighing, with_pieces

CHANGES: dict[str, tuple[Callable[[Transaction], object], str]] = {
    "record": (lambda tx: pieces.record(tx, 1, weighing("9")), "weight"),
    "set_mailer": (lambda tx: pieces.set_mailer(tx, [2, 1], "Box"), "mailer"),
    "set_service": (lambda tx: pieces.set_service(tx, [2, 1], "flat"), "service"),
    "pack another into it": (lambda tx: pieces.pack_into(tx, 1, [2]), "contents"),
    "pack it into another": (lambda tx: pieces.pack_into(tx, 2, [1]), "contents"),
}
PAID: dict[str, Callable[[Transaction, list[int]], object]] = {
    "postage on": hand_overs.put_postage_on,
    "handed over": hand_overs.hand_over,
}


def weighed(store: Store) -> None:
    with_pieces(store, 2)
    with store.act("weigh") as tx:
        pieces.record_many(tx, {1: weighing("1"), 2: weighing("2")})


def rows(store: Store) -> list[tuple[object, ...]]:
    columns = ("weighing_id", "service_override", "mailer_override", "together_with")
    with store.reading() as conn:
        return [tuple(getattr(row, name) for name in columns) for row in conn.execute(schema.pieces.select())]


@pytest.mark.parametrize("pay", PAID)
@pytest.mark.parametrize("change", CHANGES)
def test_a_paid_piece_refuses_changes_and_nothing_is_stored(store: Store, change: str, pay: str) -> None:
    weighed(store)
    with store.act("pay") as tx:
        PAID[pay](tx, [1])
    before, (do, what) = rows(store), CHANGES[change]
    with (
        pytest.raises(Refused, match=f"^1000 already has its postage on, so its {what} can't change"),
        store.act("x") as tx,
    ):
        do(tx)
    assert rows(store) == before


@pytest.mark.parametrize("change", CHANGES)
def test_the_same_changes_are_made_before_it_is_paid_for(store: Store, change: str) -> None:
    weighed(store)
    before = rows(store)
    with store.act("x") as tx:
        CHANGES[change][0](tx)
    assert rows(store) != before


def test_among_many_weighings_those_of_paid_pieces_are_left_out(store: Store) -> None:
    weighed(store)
    with store.act("pay") as tx:
        hand_overs.put_postage_on(tx, [1])
    with store.act("weigh") as tx:
        reported = pieces.record_many(tx, {1: weighing("9"), 2: weighing("9")})
    assert reported == Recorded((), 0, (2,), (1,))
    with store.act("weigh") as tx:
        assert pieces.record_many(tx, {1: weighing("1"), 2: weighing("9")}) == Recorded((), 2)
