"""Pieces, their weighings and remarks."""

from __future__ import annotations

from datetime import timedelta
from decimal import Decimal

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from desk.domain.changes import Changes
from desk.domain.length import Length, Size
from desk.domain.money import Money
from desk.domain.orders.piece import PieceKey, Weighing
from desk.domain.status import PieceStatus
from desk.domain.weight import Shown, WeightUnit
from desk.store.store import Store
from desk.store.tables import answers, hand_overs, orders, pieces, weighings
from desk.store.tables.pieces import Recorded, StoredPiece
from tests.store.samples import MONDAY, SIZE, order, weighing, with_pieces


def look(store: Store, piece_id: int = 1) -> StoredPiece:
    with store.reading() as conn:
        return pieces.piece(conn, piece_id)


def test_a_new_piece_has_no_choices(store: Store) -> None:
    with_pieces(store)

    assert look(store) == StoredPiece(
        1, PieceKey("1000"), 1, 1, None, None, None, frozenset(), None, "", "", None, None, "", None
    )


def test_pieces_are_created_once_and_unknown_orders_left_out(store: Store) -> None:
    with_pieces(store, 2)
    with store.act("more") as tx:
        found = pieces.ensure_pieces(tx, [PieceKey("1001"), PieceKey("1001", 2), PieceKey("9"), PieceKey("1001")])

    assert found == {PieceKey("1001"): 2, PieceKey("1001", 2): 3}
    assert store.last_changes == Changes(pieces=frozenset({3}))


def test_the_pieces_of_an_order_are_counted(store: Store) -> None:
    with_pieces(store, 3)
    with store.act("more") as tx:
        pieces.ensure_pieces(tx, [PieceKey("1001", 2)])
    with store.reading() as conn:
        assert pieces.counts_in_orders(conn, [1, 2, 9]) == {1: 1, 2: 2}


def test_a_shared_number_means_the_order_imported_last(store: Store) -> None:
    with store.act("take in") as tx:
        orders.save(tx, [order("7", "fair"), order("7", "post")])
        found = pieces.ensure_pieces(tx, [PieceKey("7")])

    assert look(store, found[PieceKey("7")]).order_id == 2


def test_pieces_are_in_the_order_of_their_orders(store: Store) -> None:
    with store.act("take in") as tx:
        orders.save(tx, [order("b"), order("a")])
        pieces.ensure_pieces(tx, [PieceKey("a", 2), PieceKey("a"), PieceKey("b")])
    with store.reading() as conn:
        assert [one.key.reference for one in pieces.all_pieces(conn)] == ["b-1", "a-1", "a-2"]
        assert [one.key.reference for one in pieces.some_pieces(conn, [2, 3, 99])] == ["b-1", "a-1"]


def test_the_newest_weighing_is_used_and_older_ones_are_kept(store: Store) -> None:
    with_pieces(store)
    with store.act("weigh") as tx:
        pieces.record(tx, 1, weighing("4.2"))
    with store.act("weigh") as tx:
        pieces.record(tx, 1, weighing("4.20", size=SIZE, stiff=False), MONDAY + timedelta(hours=1))

    piece = look(store)
    assert piece.weighing == weighing("4.20", size=SIZE, stiff=False)
    assert str(piece.weighing.shown.value) == "4.20"
    assert piece.weighed_at == MONDAY + timedelta(hours=1)
    with store.reading() as conn:
        assert len(weighings.of_piece(conn, 1)) == 2
    with store.reading() as conn:
        assert [found.shown.value for _, found in weighings.of_piece(conn, 1)] == [Decimal("4.2"), Decimal("4.20")]


def test_a_weighing_of_a_missing_piece_is_not_stored(store: Store) -> None:
    with pytest.raises(KeyError), store.act("weigh") as tx:
        pieces.record(tx, 77, weighing())
    with store.reading() as conn:
        assert weighings.of_piece(conn, 77) == []
    assert store.revision == 0


def test_many_weighings_at_once_are_sorted_into_new_same_and_changed(store: Store) -> None:
    ids = with_pieces(store, 4)
    with store.act("weights") as tx:
        assert pieces.record_many(tx, {ids[0]: weighing("1"), ids[1]: weighing("2")}) == Recorded((1, 2))
    with store.act("weights again") as tx:
        reported = pieces.record_many(tx, dict(zip(ids, map(weighing, ("1", "2.5", "3")), strict=False)))

    assert reported == Recorded(new=(3,), same=1, changed=(2,))
    assert store.last_changes.pieces == frozenset({2, 3})


sides = st.decimals("0.001", "2000", places=3).map(Length)
odd_weighings = st.builds(
    Weighing,
    st.builds(
        Shown,
        st.decimals("-9", "99999", places=4),
        st.sampled_from(WeightUnit),
        st.just(Decimal("0.02")),
        low=st.none() | st.decimals("0", "99999", places=2),
        high=st.none() | st.decimals("0", "99999", places=2),
        offset=st.decimals("-9", "9", places=2),
    ),
    st.text(st.characters(exclude_characters="\0", exclude_categories=["Cs"])),
    st.none() | st.builds(Size, sides, sides, sides),
    st.none() | st.booleans(),
    st.none() | st.booleans(),
    copied_from=st.sampled_from(["", "1041-1"]),
)


@settings(max_examples=15, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(odd_weighings)
def test_every_weighing_is_read_back_equal(store: Store, some: Weighing) -> None:
    piece_id = with_pieces(store)[0] if store.revision == 0 else 1
    with store.act("weigh") as tx:
        pieces.record(tx, piece_id, some)

    assert look(store).weighing == some


def test_a_status_set_by_hand_is_stored_and_cleared(store: Store) -> None:
    with_pieces(store)
    with store.act("set aside") as tx:
        assert pieces.set_beside(tx, [1], PieceStatus.SET_ASIDE) == [1]
    assert look(store).beside is PieceStatus.SET_ASIDE
    with store.act("back on") as tx:
        pieces.set_beside(tx, [1], None)
    assert look(store).beside is None
    with pytest.raises(ValueError, match="ready"), store.act("no") as tx:
        pieces.set_beside(tx, [1], PieceStatus.READY)


def test_mailer_and_service_can_be_chosen(store: Store) -> None:
    with_pieces(store)
    with store.act("choose") as tx:
        pieces.set_mailer(tx, [1], "Padded")
        pieces.set_service(tx, [1], "flat")

    assert (look(store).mailer_override, look(store).service_override, look(store).version) == ("Padded", "flat", 3)


def test_answers_are_given_and_withdrawn(store: Store) -> None:
    with_pieces(store, 2)
    with store.act("seen") as tx:
        assert answers.answer(tx, 1, "hs-missing")
        assert answers.answer(tx, 1, "value-zero")
        assert not answers.answer(tx, 1, "value-zero")
    assert look(store).answered == frozenset({"hs-missing", "value-zero"})
    assert store.last_changes == Changes(pieces=frozenset({1}))

    with store.act("not so") as tx:
        assert answers.withdraw(tx, 1, "hs-missing")
        assert not answers.withdraw(tx, 2, "value-zero")
    assert look(store).answered == frozenset({"value-zero"})


def test_postage_and_hand_over_keep_their_first_time(store: Store) -> None:
    with_pieces(store, 2)
    with store.act("stamps on") as tx:
        assert hand_overs.put_postage_on(tx, [1]) == [1]
    first = look(store).postage_on_at
    with store.act("again") as tx:
        assert hand_overs.put_postage_on(tx, [1, 2]) == [2]
        assert hand_overs.hand_over(tx, [1, 2]) == [1, 2]

    assert look(store).postage_on
    assert look(store).postage_on_at == first
    assert look(store).handed_over


def test_postage_can_be_taken_off(store: Store) -> None:
    with_pieces(store)
    with store.act("on") as tx:
        hand_overs.put_postage_on(tx, [1])
    with store.act("off") as tx:
        assert hand_overs.take_postage_off(tx, [1]) == [1]

    assert not look(store).postage_on


def test_tracking_and_paid_amounts_are_imported(store: Store) -> None:
    with_pieces(store)
    with store.act("match") as tx:
        assert hand_overs.match(tx, 1, "LA123456785US", Money(1234, "EUR"))
        assert not hand_overs.match(tx, 1, "LA123456785US", Money(1234, "EUR"))
    assert (look(store).tracking, look(store).paid) == ("LA123456785US", Money(1234, "EUR"))
    with store.act("match") as tx:
        hand_overs.match(tx, 1, "")
    assert look(store).paid is None


def test_a_missing_piece_is_a_key_error(store: Store) -> None:
    with store.reading() as conn, pytest.raises(KeyError):
        pieces.piece(conn, 5)
