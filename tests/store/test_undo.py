"""Undo and redo restore the earlier rows, unless a row was changed since."""

from __future__ import annotations

from collections.abc import Callable

import pytest
from sqlalchemy import Table, func, select, update

from desk.domain.changes import Changes
from desk.domain.faults import Refused
from desk.domain.orders.piece import PieceKey
from desk.domain.status import PieceStatus
from desk.store import schema, undo
from desk.store.store import Store
from desk.store.tables import answers, movements, orders, papers, pieces, shop, weighings
from desk.store.tables.movements import CountedKind
from desk.store.tables.papers import PaperKind
from desk.store.transaction import Transaction
from tests.store.samples import SHOP, order, orders_of, weighing, with_pieces

NOT_COMPARED = {"version", "ids", "journal", "journal_pieces", "benches", "weighings", "movements"}


def everything(store: Store) -> dict[str, list[tuple[object, ...]]]:
    """Return all that can be undone, without versions, which rise even then."""

    def rows(table: Table) -> list[tuple[object, ...]]:
        columns = [column for column in table.c if column.name not in NOT_COMPARED]
        return sorted((tuple(row) for row in conn.execute(select(*columns))), key=repr)

    with store.reading() as conn:
        return {table.name: rows(table) for table in schema.metadata.sorted_tables if table.name not in NOT_COMPARED}


def names(store: Store) -> tuple[str | None, str | None]:
    with store.reading() as conn:
        back, again = undo.next_undo(conn, store.bench), undo.next_redo(conn, store.bench)
    return back and back.name, again and again.name


def weigh(tx: Transaction) -> None:
    pieces.record(tx, 1, weighing("9"))


def take_in(tx: Transaction) -> None:
    orders.save(tx, [order("1000", status="paid"), order("new")])


def answer_and_withdraw(tx: Transaction) -> None:
    answers.answer(tx, 1, "value-zero")
    answers.withdraw(tx, 1, "hs-missing")


def set_up_shop(tx: Transaction) -> None:
    shop.save(tx, SHOP)


def twice_in_one_step(tx: Transaction) -> None:
    pieces.set_mailer(tx, [1], "Box")
    pieces.set_mailer(tx, [1], "Tube")
    pieces.set_beside(tx, [1, 2], PieceStatus.LOST)


def make_and_take_away(tx: Transaction) -> None:
    answers.answer(tx, 2, "size-missing")
    answers.withdraw(tx, 2, "size-missing")
    pieces.set_mailer(tx, [2], "Box")


def change_and_take_away(tx: Transaction) -> None:
    tx.update(schema.answers, {1: {"at": tx.now}})
    answers.withdraw(tx, 1, "hs-missing")


def weigh_a_new_piece(tx: Transaction) -> None:
    found = pieces.ensure_pieces(tx, [PieceKey("1001", 2)])
    pieces.record_many(tx, dict.fromkeys(found.values(), weighing("3")))


STEPS = (
    weigh_a_new_piece,
    weigh,
    take_in,
    answer_and_withdraw,
    set_up_shop,
    twice_in_one_step,
    make_and_take_away,
    change_and_take_away,
)


def prepared(store: Store) -> None:
    with_pieces(store, 3)
    with store.act("first") as tx:
        pieces.record(tx, 1, weighing("1"))
        answers.answer(tx, 1, "hs-missing")


@pytest.mark.parametrize("step", STEPS)
def test_undo_restores_the_old_state_and_redo_the_new_one(store: Store, step: Callable[[Transaction], None]) -> None:
    prepared(store)
    before = everything(store)
    with store.act("the step", order="1000") as tx:
        step(tx)
    after, touched = everything(store), store.last_changes
    assert after != before

    assert undo.undo(store).facts == {"order": "1000"}
    assert everything(store) == before
    assert store.last_changes == touched
    undo.redo(store)
    assert everything(store) == after
    undo.undo(store)
    assert everything(store) == before


def test_a_row_put_back_is_one_version_newer(store: Store) -> None:
    """Another bench that still holds the row as it was before must notice."""
    prepared(store)

    def version() -> int:
        with store.reading() as conn:
            return int(conn.execute(select(schema.answers.c.version)).scalar_one())

    before = version()
    with store.act("withdraw") as tx:
        answers.withdraw(tx, 1, "hs-missing")
    undo.undo(store)
    assert version() == before + 1


def test_all_steps_are_undone_to_an_empty_store_and_redone(store: Store) -> None:
    states = [everything(store)]
    prepared_steps = (lambda tx: orders.save(tx, orders_of(3)), take_in, weigh_a_new_piece)
    for number, step in enumerate(prepared_steps):
        with store.act(f"step {number}") as tx:
            step(tx)
        states.append(everything(store))

    for wanted in reversed(states[:-1]):
        undo.undo(store)
        assert everything(store) == wanted
    for wanted in states[1:]:
        undo.redo(store)
        assert everything(store) == wanted


def test_the_next_undo_and_redo_are_named(store: Store) -> None:
    assert names(store) == (None, None)
    with_pieces(store)
    with store.act("weigh") as tx:
        weigh(tx)
    assert names(store) == ("weigh", None)
    undo.undo(store)
    assert names(store) == ("take in", "weigh")
    undo.redo(store)
    assert names(store) == ("weigh", None)


def test_a_new_step_ends_redo(store: Store) -> None:
    with_pieces(store)
    with store.act("weigh") as tx:
        weigh(tx)
    undo.undo(store)
    with store.act("set aside") as tx:
        pieces.set_beside(tx, [1], PieceStatus.SET_ASIDE)

    assert names(store) == ("set aside", None)
    with pytest.raises(Refused, match="nothing to redo"):
        undo.redo(store)


def test_a_step_without_changes_keeps_redo(store: Store) -> None:
    with_pieces(store)
    undo.undo(store)
    with store.act("nothing") as tx:
        orders.save(tx, [])

    assert names(store) == (None, "take in")


def test_undo_without_a_step_is_refused(store: Store) -> None:
    with pytest.raises(Refused, match="nothing to undo"):
        undo.undo(store)


def test_an_undone_weighing_is_kept_but_no_longer_counts(store: Store) -> None:
    prepared(store)
    with store.act("weigh") as tx:
        weigh(tx)
    undo.undo(store)

    with store.reading() as conn:
        assert pieces.piece(conn, 1).weighing == weighing("1")
        assert len(weighings.of_piece(conn, 1)) == 2


def test_undo_of_a_movement_adds_the_opposite_one(store: Store) -> None:
    with_pieces(store)
    with store.act("stamps on") as tx:
        movements.move(tx, CountedKind.STAMP, {"forever": -2}, "used", 1)
    undo.undo(store)
    with store.reading() as conn:
        assert movements.on_hand(conn, CountedKind.STAMP) == {"forever": 0}
        assert movements.used_by_piece(conn, CountedKind.STAMP, [1]) == {}
        assert conn.execute(select(func.count()).select_from(schema.movements)).scalar_one() == 2
    undo.redo(store)
    with store.reading() as conn:
        assert movements.on_hand(conn, CountedKind.STAMP) == {"forever": -2}


def test_undo_refuses_when_another_bench_changed_the_row(
    store: Store, where: str, opening: Callable[..., Store]
) -> None:
    with_pieces(store)
    with store.act("choose") as tx:
        pieces.set_mailer(tx, [1], "Box")
    second = opening(where, "bench 2")
    with second.act("choose") as tx:
        pieces.set_mailer(tx, [1], "Tube")
    before = everything(store)

    with pytest.raises(Refused, match=r"“choose” .* changed since"):
        undo.undo(store)
    assert everything(store) == before
    assert names(store) == ("choose", None)


def test_undo_refuses_when_the_row_is_gone(store: Store, where: str, opening: Callable[..., Store]) -> None:
    with_pieces(store)
    with store.act("seen") as tx:
        answers.answer(tx, 1, "value-zero")
    with opening(where, "bench 2").act("not so") as tx:
        answers.withdraw(tx, 1, "value-zero")

    with pytest.raises(Refused, match="changed since"):
        undo.undo(store)


def test_undo_refuses_when_others_refer_to_a_new_row(store: Store, where: str, opening: Callable[..., Store]) -> None:
    with_pieces(store)
    with opening(where, "bench 2").act("seen") as tx:
        answers.answer(tx, 1, "value-zero")

    with pytest.raises(Refused, match="changed since"):
        undo.undo(store)
    with store.reading() as conn:
        assert pieces.piece(conn, 1).answered == frozenset({"value-zero"})


def test_each_bench_undoes_its_own_steps(store: Store, where: str, opening: Callable[..., Store]) -> None:
    with_pieces(store, 2)
    second = opening(where, "bench 2")
    with second.act("second's") as tx:
        pieces.set_mailer(tx, [2], "Tube")

    assert names(store) == ("take in", None)
    assert undo.undo(second).name == "second's"
    assert undo.undo(store).name == "take in"


def test_my_step_can_be_undone_after_another_bench_undid_its_later_change(
    store: Store, where: str, opening: Callable[..., Store]
) -> None:
    with_pieces(store)
    second = opening(where, "bench 2")
    with second.act("choose") as tx:
        pieces.set_mailer(tx, [1], "Tube")
    undo.undo(second)

    undo.undo(store)
    with store.reading() as conn:
        assert pieces.all_pieces(conn) == []


def test_ids_are_never_reused(store: Store) -> None:
    with_pieces(store, 2)
    undo.undo(store)

    assert with_pieces(store, 1) == [3]


def test_printing_cannot_be_undone(store: Store) -> None:
    with_pieces(store)
    with store.act("print") as tx:
        papers.printed(tx, [1], PaperKind.LABEL)

    with pytest.raises(Refused, match="Cancel the paper"):
        undo.undo(store)


def test_undo_does_not_cross_a_migration(store: Store) -> None:
    with_pieces(store)
    with store.engine.begin() as conn:
        conn.execute(update(schema.journal).values(schema_head="0000"))

    with pytest.raises(Refused, match="earlier version"):
        undo.undo(store)
    assert names(store) == ("take in", None)


def test_other_benches_follow_an_undo(store: Store) -> None:
    with_pieces(store)
    seen = store.revision
    undo.undo(store)

    assert store.changes_since(seen) == Changes(pieces=frozenset({1}), orders=frozenset({1}))
