"""The journal: numbers without gaps, which steps are live, and what each touched, for several writers."""

from __future__ import annotations

import threading
from collections.abc import Callable
from datetime import timedelta

import pytest
from sqlalchemy import select

from desk.domain.changes import Changes
from desk.domain.faults import Refused
from desk.store import journal, schema, undo
from desk.store.journal import Note, Step, StepKind
from desk.store.store import Store
from desk.store.tables import pieces, settings
from tests.store.samples import MONDAY, orders_of, with_pieces

Opening = Callable[..., Store]


def choose(store: Store, name: str, ids: list[int], **facts: str) -> None:
    with store.act(name, **facts) as tx:
        pieces.set_mailer(tx, ids, name)


def steps(store: Store, limit: int = 100) -> list[Step]:
    with store.reading() as conn:
        return journal.steps(conn, limit)


def names(store: Store) -> tuple[str | None, str | None]:
    with store.reading() as conn:
        back, again = journal.next_undo(conn, store.bench), journal.next_redo(conn, store.bench)
    return back and back.name, again and again.name


def live(store: Store) -> list[bool]:
    with store.reading() as conn:
        return list(conn.execute(select(schema.journal.c.live).order_by(schema.journal.c.id)).scalars())


def test_an_empty_journal_has_no_steps(store: Store) -> None:
    with store.reading() as conn:
        assert journal.revision(conn) == 0
        assert journal.changes_since(conn, 0) == Changes()
    assert steps(store) == []
    assert names(store) == (None, None)


def test_a_step_is_reported_completely(store: Store) -> None:
    with_pieces(store)
    choose(store, "Box “long”", [1], order="1000", by="hand")
    assert steps(store, 1) == [
        Step(
            2, "bench 1", StepKind.ACT, "Box “long”", {"order": "1000", "by": "hand"}, MONDAY + timedelta(seconds=3), ""
        )
    ]
    assert steps(store, 1)[0].facts == {"order": "1000", "by": "hand"}


def test_steps_are_read_newest_first_and_no_more_than_requested(store: Store) -> None:
    with_pieces(store)
    for name in "abc":
        choose(store, name, [1])
    assert [step.name for step in steps(store)] == ["c", "b", "a", "take in"]
    assert [step.revision for step in steps(store, 2)] == [4, 3]


def test_step_numbers_have_no_gaps_whatever_fails_or_changes_nothing(store: Store) -> None:
    with_pieces(store)
    choose(store, "a", [1])
    with pytest.raises(KeyError):
        choose(store, "b", [1, 999])
    choose(store, "a", [1])
    undo.undo(store)
    undo.redo(store)
    choose(store, "c", [1])
    assert [step.revision for step in reversed(steps(store))] == [1, 2, 3, 4, 5]


def test_two_benches_at_once_leave_no_gap_and_share_no_number(where: str, opening: Opening) -> None:
    benches = [opening(where, f"bench {number}") for number in (1, 2)]
    ids = with_pieces(benches[0], 2)

    def work(bench: Store, piece: int) -> None:
        for number in range(12):
            choose(bench, f"{bench.bench}-{number}", [piece])

    threads = [threading.Thread(target=work, args=pair) for pair in zip(benches, ids, strict=True)]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()
    reported = steps(benches[0])
    assert [step.revision for step in reversed(reported)] == list(range(1, 26))
    assert [step.name for step in reversed(reported) if step.bench == "bench 2"] == [f"bench 2-{n}" for n in range(12)]


def test_pieces_touched_by_steps_are_collected(store: Store) -> None:
    with_pieces(store, 3)
    choose(store, "a", [1])
    choose(store, "b", [3])
    with store.act("set") as tx:
        settings.write(tx, "n", Note("x"))
    with store.reading() as conn:
        assert journal.changes_since(conn, 4) == Changes()
        assert journal.changes_since(conn, 3) == Changes(settings=True)
        assert journal.changes_since(conn, 1) == Changes(pieces=frozenset({1, 3}), settings=True)
        assert journal.changes_since(conn, 0).orders == {1, 2, 3}
        assert journal.changes_since(conn, 99) == Changes()


def test_ten_thousand_orders_give_a_short_entry(store: Store) -> None:
    from desk.store.tables import orders

    with store.act("take in") as tx:
        orders.save(tx, orders_of(300))
    with store.reading() as conn:
        row = conn.execute(select(schema.journal.c.touched, schema.journal.c.images)).one()
    assert len(row.touched) < 100
    assert len(row.images) < 100


def test_the_steps_of_a_piece_are_those_that_touched_it(store: Store) -> None:
    with_pieces(store, 3)
    for name, ids in [("a", [1]), ("b", [2]), ("c", [1, 2, 3]), ("d", [3])]:
        choose(store, name, ids)
    with store.reading() as conn:
        assert [step.name for step in journal.steps_of_piece(conn, 2)] == ["c", "b", "take in"]
        assert [step.name for step in journal.steps_of_piece(conn, 2, limit=2)] == ["c", "b"]
        assert journal.steps_of_piece(conn, 4) == []


def test_steps_are_read_until_enough_are_found(store: Store) -> None:
    """More than one query of a hundred rows, and the step in question is the oldest."""
    with_pieces(store, 2)
    for number in range(102):
        choose(store, str(number), [1])
    with store.reading() as conn:
        assert [step.name for step in journal.steps_of_piece(conn, 2)] == ["take in"]
        assert len(journal.steps_of_piece(conn, 1, limit=101)) == 101


def test_undo_and_redo_are_steps_that_name_what_they_reverse(store: Store) -> None:
    with_pieces(store)
    choose(store, "a", [1])
    undo.undo(store)
    assert next((step.kind, step.name) for step in steps(store)) == (StepKind.UNDO, "a")
    assert (names(store), live(store)) == (("take in", "a"), [True, False, True])
    undo.redo(store)
    assert next((step.kind, step.name) for step in steps(store)) == (StepKind.REDO, "a")
    assert (names(store), live(store)) == (("a", None), [True, False, False, True])


def test_a_new_action_ends_redo_for_its_own_bench_only(store: Store, where: str, opening: Opening) -> None:
    with_pieces(store, 2)
    other = opening(where, "bench 2")
    choose(store, "mine", [1])
    choose(other, "theirs", [2])
    undo.undo(store)
    undo.undo(other)
    choose(store, "new", [1])
    assert names(store) == ("new", None)
    assert names(other) == (None, "theirs")


def test_an_action_that_changed_nothing_keeps_redo(store: Store) -> None:
    with_pieces(store)
    choose(store, "a", [1])
    undo.undo(store)
    choose(store, "", [1])
    assert names(store) == ("take in", "a")


def test_a_final_step_cannot_be_undone(store: Store) -> None:
    with_pieces(store)
    with store.act("print") as tx:
        tx.final = "It has left."
        pieces.set_mailer(tx, [1], "Box")
    assert steps(store, 1)[0].final == "It has left."
    with pytest.raises(Refused, match="It has left"):
        undo.undo(store)


def test_a_step_can_be_recorded_without_images(store: Store) -> None:
    with_pieces(store)
    with store.act("forget") as tx:
        tx.without_images = True
        pieces.set_mailer(tx, [1], "Box")
    with store.reading() as conn:
        assert journal.images_of(conn, 2) == (schema.SCHEMA_HEAD, {})
        assert journal.images_of(conn, 1)[1].keys() == {"orders", "pieces"}
        assert journal.changes_since(conn, 1) == Changes(pieces=frozenset({1}))


def test_a_step_knows_its_schema(store: Store) -> None:
    with_pieces(store)
    with store.reading() as conn:
        assert journal.images_of(conn, 1)[0] == schema.SCHEMA_HEAD
