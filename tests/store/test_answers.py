"""Answers: one per piece and code; those about a weight hold only for that weight."""

from __future__ import annotations

import pytest
from sqlalchemy import select
from sqlalchemy.exc import IntegrityError

from desk.store import ranges, schema, undo
from desk.store.store import Store
from desk.store.tables import answers, pieces
from desk.store.tables.answers import OF_WEIGHT, answer, withdraw
from tests.store.samples import weighing, with_pieces


def say(store: Store, piece: int, code: str) -> bool:
    with store.act("Seen") as tx:
        return answer(tx, piece, code)


def unsay(store: Store, piece: int, code: str) -> bool:
    with store.act("Not so") as tx:
        return withdraw(tx, piece, code)


def answered_codes(store: Store, piece: int) -> frozenset[str]:
    with store.reading() as conn:
        return pieces.piece(conn, piece).answered


def test_an_answer_belongs_to_one_piece_and_one_code(store: Store) -> None:
    one, other = with_pieces(store, 2)
    assert say(store, one, "value-zero")
    assert say(store, one, "hs-missing")
    assert (answered_codes(store, one), answered_codes(store, other)) == ({"value-zero", "hs-missing"}, frozenset())
    assert store.last_changes.pieces == {one}


def test_an_answer_given_twice_is_stored_once(store: Store) -> None:
    (one,) = with_pieces(store)
    say(store, one, "value-zero")
    revision = store.revision
    assert not say(store, one, "value-zero")
    assert store.revision == revision
    with store.reading() as conn:
        assert len(conn.execute(select(schema.answers)).all()) == 1


def test_an_answer_has_its_time(store: Store) -> None:
    (one,) = with_pieces(store)
    say(store, one, "value-zero")
    with store.reading() as conn:
        assert conn.execute(select(schema.answers.c.at)).scalars().all() == ["2026-03-02T09:00:03.000000+00:00"]


def test_an_answer_is_withdrawn(store: Store) -> None:
    one, other = with_pieces(store, 2)
    for piece in (one, other):
        say(store, piece, "value-zero")
    say(store, one, "hs-missing")
    assert unsay(store, one, "value-zero")
    assert (answered_codes(store, one), answered_codes(store, other)) == ({"hs-missing"}, {"value-zero"})
    revision = store.revision
    assert not unsay(store, one, "value-zero")
    assert store.revision == revision


def test_undo_restores_an_answer_and_removes_one(store: Store) -> None:
    (one,) = with_pieces(store)
    say(store, one, "value-zero")
    unsay(store, one, "value-zero")
    undo.undo(store)
    assert answered_codes(store, one) == {"value-zero"}
    undo.undo(store)
    assert answered_codes(store, one) == frozenset()


def test_an_answer_needs_an_existing_piece(store: Store) -> None:
    with pytest.raises(IntegrityError, match=r"(?i)foreign key"):
        say(store, 999, "value-zero")


def test_answers_about_weights_are_found_by_piece(store: Store, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(ranges, "CHUNK", 2)
    one, other, third = with_pieces(store, 3)
    for piece, code in [(one, OF_WEIGHT[0]), (one, "value-zero"), (other, "hs-missing"), (third, OF_WEIGHT[1])]:
        say(store, piece, code)
    with store.reading() as conn:
        assert sorted(answers.of_weight(conn, [one, other, third]).values()) == [one, third]
        assert sorted(answers.of_weight(conn, [other, third]).values()) == [third]
        assert answers.of_weight(conn, []) == {}


@pytest.mark.parametrize("code", OF_WEIGHT)
def test_another_weight_asks_its_questions_again_and_the_same_weight_does_not(store: Store, code: str) -> None:
    (one,) = with_pieces(store)
    with store.act("weigh") as tx:
        pieces.record(tx, one, weighing("4.2"))
    say(store, one, code)
    say(store, one, "value-zero")
    with store.act("weigh") as tx:
        pieces.record(tx, one, weighing("4.2", mailer="Box"))
    assert answered_codes(store, one) == {code, "value-zero"}
    with store.act("weigh") as tx:
        pieces.record(tx, one, weighing("4.3"))
    assert answered_codes(store, one) == {"value-zero"}
    undo.undo(store)
    assert answered_codes(store, one) == {code, "value-zero"}


@pytest.mark.parametrize("code", sorted(OF_WEIGHT))
def test_an_answer_from_before_the_first_weighing_asks_again(store: Store, code: str) -> None:
    (one,) = with_pieces(store)
    say(store, one, code)
    say(store, one, "hs-missing")
    with store.act("Weighed") as tx:
        pieces.record(tx, one, weighing())
    assert answered_codes(store, one) == {"hs-missing"}
