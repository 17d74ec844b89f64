"""Postage, hand-over and imported amounts: set once, withdrawn, and undone."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from datetime import date, datetime, timedelta

import pytest

from desk.domain.clock import local_day, start_of
from desk.domain.money import Money
from desk.domain.status import PieceStatus
from desk.store import schema, undo
from desk.store.store import Store
from desk.store.tables import ledger, pieces
from desk.store.tables.hand_overs import (
    count,
    hand_over,
    has_left,
    left_last,
    match,
    orders_here,
    orders_that_left,
    put_postage_on,
    still_here,
    take_postage_off,
)
from desk.store.tables.pieces import StoredPiece
from desk.store.times import to_utc_text
from desk.store.transaction import Transaction
from tests.store.samples import MONDAY, with_pieces
from tests.store.test_ledger import row as entry

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
def test_marking_a_piece_again_keeps_its_first_time(store: Store, on: Mark, name: str) -> None:
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


def test_the_last_hand_over_before_a_day_is_on_an_earlier_day(store: Store) -> None:
    one, other = with_pieces(store, 2)
    say(store, hand_over, [one])
    say(store, hand_over, [other])
    at = piece(store, other).handed_over_at
    assert at is not None
    day = local_day(at)
    with store.reading() as conn:
        assert left_last(conn, day) is None
        assert left_last(conn, day + timedelta(days=1)) == at


def test_postage_and_hand_over_are_separate(store: Store) -> None:
    (one,) = with_pieces(store)
    say(store, hand_over, [one])
    assert (piece(store, one).postage_on, piece(store, one).handed_over) == (False, True)


def matched(store: Store, number: int, tracking: str, paid: Money | None = None) -> bool:
    with store.act("Match") as tx:
        return match(tx, number, tracking, paid)


@pytest.mark.parametrize("paid", [None, Money(0), Money(512), Money(1200, "JPY"), Money(9 * 10**12)])
def test_tracking_numbers_and_paid_amounts_are_read_back(store: Store, paid: Money | None) -> None:
    (one,) = with_pieces(store)
    assert (piece(store, one).tracking, piece(store, one).paid) == ("", None)
    assert matched(store, one, "9400", paid)
    assert (piece(store, one).tracking, piece(store, one).paid) == ("9400", paid)


def test_the_same_label_match_again_makes_no_step(store: Store) -> None:
    (one,) = with_pieces(store)
    matched(store, one, "9400", Money(512))
    revision = store.revision
    assert not matched(store, one, "9400", Money(512))
    assert store.revision == revision
    assert matched(store, one, "9400", Money(513))
    assert matched(store, one, "9400")
    assert piece(store, one).paid is None


def test_the_service_bought_stays_when_a_later_list_names_none(store: Store) -> None:
    (one,) = with_pieces(store)
    with store.act("Match") as tx:
        match(tx, one, "", Money(512), "Media Mail")
    assert piece(store, one).bought_as == "Media Mail"
    matched(store, one, "9400", Money(512))
    assert piece(store, one).bought_as == "Media Mail"
    with store.act("Match") as tx:
        match(tx, one, "9400", Money(512), "Library Mail")
    assert piece(store, one).bought_as == "Library Mail"


def test_a_label_match_can_be_undone(store: Store) -> None:
    (one,) = with_pieces(store)
    matched(store, one, "9400", Money(512))
    matched(store, one, "9401", Money(600, "EUR"))
    undo.undo(store)
    assert (piece(store, one).tracking, piece(store, one).paid) == ("9400", Money(512))


@pytest.mark.parametrize(("hours", "is_here"), [(-1, False), (0, True), (1, True)])
def test_a_piece_stays_in_the_batch_until_its_mailing_day_is_over(store: Store, hours: int, is_here: bool) -> None:
    one, other = with_pieces(store, 2)
    day = date(2026, 3, 2)
    with store.act("Handed over") as tx:
        left = to_utc_text(start_of(day) + timedelta(hours=hours))
        tx.update(schema.pieces, {one: {"handed_over_at": left}})
    with store.reading() as conn:
        assert still_here(conn, day) == ([one, other] if is_here else [other])
        assert orders_here(conn, day) == ({1, 2} if is_here else {2})
        assert (count(conn), has_left(conn)) == (2, True)


def test_an_order_packed_into_a_mailed_piece_counts_as_mailed(store: Store) -> None:
    carrier, inside, other = with_pieces(store, 3)
    with store.act("Packed and handed over") as tx:
        tx.update(schema.pieces, {inside: {"together_with": carrier}})
    with store.reading() as conn:
        assert (orders_here(conn, date(2026, 3, 2)), has_left(conn)) == ({1, 2, 3}, False)
    with store.act("Handed over") as tx:
        tx.update(schema.pieces, {carrier: {"handed_over_at": to_utc_text(MONDAY - timedelta(days=3))}})
    with store.reading() as conn:
        assert orders_here(conn, date(2026, 3, 2)) == {3}
        assert (still_here(conn, date(2026, 3, 2)), count(conn)) == ([other], 2)


@pytest.mark.parametrize(("days", "is_here"), [(0, True), (1, False)])
def test_a_piece_handed_over_the_evening_before_is_in_the_batch_on_its_mailing_date(
    store: Store, days: int, is_here: bool
) -> None:
    carrier, inside = with_pieces(store, 2)
    mailed = date(2026, 3, 2)
    with store.act("Handed over") as tx:
        tx.update(schema.pieces, {inside: {"together_with": carrier}})
        tx.update(schema.pieces, {carrier: {"handed_over_at": to_utc_text(start_of(mailed) - timedelta(hours=5))}})
        ledger.add(tx, [entry(carrier, on=mailed)])
    day = mailed + timedelta(days=days)
    with store.reading() as conn:
        assert still_here(conn, day) == ([carrier] if is_here else [])
        assert orders_here(conn, day) == ({1, 2} if is_here else set())


def test_an_order_counts_as_mailed_when_all_its_pieces_are(store: Store) -> None:
    """What was handed over at that moment counts; a piece in another piece leaves with it."""
    one, other, third = with_pieces(store, 3)
    with store.act("Together") as tx:
        pieces.pack_into(tx, one, [other])
    say(store, hand_over, [one])
    left = time_of(store, one, "handed_over")
    assert left is not None
    with store.reading() as conn:
        ids = [found.order_id for found in pieces.some_pieces(conn, [one, other, third])]
        assert orders_that_left(conn, to_utc_text(left)) == ids[:2]
        assert orders_that_left(conn, to_utc_text(left - timedelta(seconds=1))) == []


@pytest.mark.parametrize("beside", [PieceStatus.CAME_BACK, PieceStatus.LOST])
def test_a_returned_or_lost_order_does_not_count_as_mailed(store: Store, beside: PieceStatus) -> None:
    (one,) = with_pieces(store, 1)
    say(store, hand_over, [one])
    with store.reading() as conn:
        assert len(orders_that_left(conn, "9999")) == 1
    with store.act("Back") as tx:
        pieces.set_beside(tx, [one], beside)
    with store.reading() as conn:
        assert orders_that_left(conn, "9999") == []
