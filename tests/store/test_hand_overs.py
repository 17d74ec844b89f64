"""Postage, hand-over and imported amounts: set once, withdrawn, and undone."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from datetime import datetime, timedelta

import pytest

from desk.domain.money import Money
from desk.store import undo
from desk.store.store import Store
from desk.store.tables import pieces
from desk.store.tables.hand_overs import hand_over, match, put_postage_on, take_postage_off
from desk.store.tables.pieces import StoredPiece
from desk.store.transaction import Transaction
from tests.store.samples import MONDAY, with_pieces

Mark = Callable[[Transaction, Iterable[int]], list[int]]
MARKS = [(put_postage_on, "postage_on"), (hand_over, "handed_over")]


def say(store: Store, mark: Mark, ids: list[int]) -> list[int]:
    with store.act("Say so") as tx:
        return mark(tx, ids)


def piece(store: Store, number: int) -> StoredPiece:
    with store.reading() as conn:
        return pieces.piece(conn, number)


def time_of(store: Store, number: int, name: str) -> datetime | None:
    at: datetime | None = getattr(piece(store, number), f"{name}_at")
    return at


@pytest.mark.parametrize(("on", "name"), MARKS)
def test_only_the_affected_pieces_are_reported(store: Store, on: Mark, name: str) -> None:
    one, other, third = with_pieces(store, 3)
    assert say(store, on, [one, third]) == [one, third]
    assert [getattr(piece(store, number), name) for number in (one, other, third)] == [True, False, True]
    assert time_of(store, one, name) == MONDAY + timedelta(seconds=3)
    assert store.last_changes.pieces == {one, third}


@pytest.mark.parametrize(("on", "name"), MARKS)
def test_marking_again_keeps_the_first_time(store: Store, on: Mark, name: str) -> None:
    one, other = with_pieces(store, 2)
    say(store, on, [one])
    first = time_of(store, one, name)
    assert say(store, on, [one, other]) == [other]
    assert time_of(store, one, name) == first
    revision = store.revision
    assert say(store, on, [one, other]) == []
    assert store.revision == revision


def test_postage_can_be_removed_set_again_and_undone(store: Store) -> None:
    one, other = with_pieces(store, 2)
    say(store, put_postage_on, [one])
    first = time_of(store, one, "postage_on")
    assert say(store, take_postage_off, [one, other]) == [one]
    assert time_of(store, one, "postage_on") is None
    assert say(store, take_postage_off, [one]) == []
    undo.undo(store)
    assert time_of(store, one, "postage_on") == first
    undo.redo(store)
    say(store, put_postage_on, [one])
    again = time_of(store, one, "postage_on")
    assert first is not None
    assert again is not None
    assert again > first


@pytest.mark.parametrize("act", [put_postage_on, take_postage_off, hand_over])
def test_a_missing_piece_stops_the_whole_step(store: Store, act: Mark) -> None:
    (one,) = with_pieces(store)
    say(store, put_postage_on, [one])
    say(store, hand_over, [one])
    before, revision = piece(store, one), store.revision
    with pytest.raises(KeyError):
        say(store, act, [one, 999])
    assert (piece(store, one), store.revision) == (before, revision)


def test_postage_and_hand_over_are_separate(store: Store) -> None:
    (one,) = with_pieces(store)
    say(store, hand_over, [one])
    assert (piece(store, one).postage_on, piece(store, one).handed_over) == (False, True)


def matched(store: Store, number: int, tracking: str, paid: Money | None = None) -> bool:
    with store.act("Match") as tx:
        return match(tx, number, tracking, paid)


@pytest.mark.parametrize("paid", [None, Money(0), Money(512), Money(1200, "JPY"), Money(9 * 10**12)])
def test_tracking_number_and_paid_amount_are_read_back(store: Store, paid: Money | None) -> None:
    (one,) = with_pieces(store)
    assert (piece(store, one).tracking, piece(store, one).paid) == ("", None)
    assert matched(store, one, "9400", paid)
    assert (piece(store, one).tracking, piece(store, one).paid) == ("9400", paid)


def test_the_same_match_again_is_reported_and_leaves_no_step(store: Store) -> None:
    (one,) = with_pieces(store)
    matched(store, one, "9400", Money(512))
    revision = store.revision
    assert not matched(store, one, "9400", Money(512))
    assert store.revision == revision
    assert matched(store, one, "9400", Money(513))
    assert matched(store, one, "9400")
    assert piece(store, one).paid is None


def test_a_match_is_undone(store: Store) -> None:
    (one,) = with_pieces(store)
    matched(store, one, "9400", Money(512))
    matched(store, one, "9401", Money(600, "EUR"))
    undo.undo(store)
    assert (piece(store, one).tracking, piece(store, one).paid) == ("9400", Money(512))
