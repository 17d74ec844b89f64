"""Taking a package out of an order, on both databases: what goes with it, what stays, and what keeps it."""

from __future__ import annotations

import pytest

from desk.domain.faults import Refused
from desk.domain.money import Money
from desk.domain.orders.piece import PieceKey
from desk.store import undo
from desk.store.store import Store
from desk.store.tables import answers, orders, packages, papers, pieces
from desk.store.tables.hand_overs import match, put_postage_on
from desk.store.tables.papers import PaperKind
from tests.store.samples import order, weighing

ONE, TWO, OTHER = PieceKey("1"), PieceKey("1", 2), PieceKey("2")


@pytest.fixture
def ids(store: Store) -> dict[PieceKey, int]:
    with store.act("Import") as tx:
        orders.save(tx, [order("1"), order("2")])
        found = pieces.ensure_pieces(tx, [ONE, TWO, OTHER])
        pieces.record(tx, found[TWO], weighing())
        answers.answer(tx, found[TWO], "weighed-twice")
    return found


def remove(store: Store, piece: int) -> None:
    with store.act("Remove") as tx:
        packages.remove(tx, [piece])


def left(store: Store) -> list[PieceKey]:
    with store.reading() as conn:
        return [piece.key for piece in pieces.all_pieces(conn)]


def test_removing_a_package_removes_its_answers_and_undo_restores_both(store: Store, ids: dict[PieceKey, int]) -> None:
    with store.act("Print") as tx:
        papers.printed(tx, [ids[TWO]], PaperKind.SLIP)
    remove(store, ids[TWO])
    assert left(store) == [ONE, OTHER]
    undo.undo(store)
    assert left(store) == [ONE, TWO, OTHER]
    with store.reading() as conn:
        (back,) = pieces.some_pieces(conn, [ids[TWO]])
        assert [paper.kind for paper in papers.all_papers(conn, ids[TWO])] == [PaperKind.SLIP]
    assert (back.answered, back.weighing) == ({"weighed-twice"}, weighing())


def test_a_paid_package_cannot_be_removed(store: Store, ids: dict[PieceKey, int]) -> None:
    with store.act("Stamps on") as tx:
        put_postage_on(tx, [ids[TWO]])
    with pytest.raises(Refused, match="1-2 already has its postage on, so its packages can't change"):
        remove(store, ids[TWO])
    assert TWO in left(store)


def test_a_package_with_a_label_cannot_be_removed_until_the_label_is_canceled(
    store: Store, ids: dict[PieceKey, int]
) -> None:
    with store.act("Print") as tx:
        (paper,) = papers.printed(tx, [ids[TWO]], PaperKind.LABEL)
    with pytest.raises(Refused, match="A label of 1-2 was printed"):
        remove(store, ids[TWO])
    with store.act("Cancel") as tx:
        papers.void(tx, paper)
    remove(store, ids[TWO])
    assert TWO not in left(store)


@pytest.mark.parametrize(("tracking", "paid"), [("9400", None), ("", Money(512))])
def test_a_package_with_a_tracking_number_or_a_paid_amount_cannot_be_removed(
    store: Store, ids: dict[PieceKey, int], tracking: str, paid: Money | None
) -> None:
    with store.act("Match") as tx:
        match(tx, ids[TWO], tracking, paid)
    with pytest.raises(Refused, match="1-2 has a tracking number or an amount paid"):
        remove(store, ids[TWO])
    assert TWO in left(store)


def test_a_refusal_names_the_order_number(store: Store, ids: dict[PieceKey, int]) -> None:
    with store.act("Print") as tx:
        papers.printed(tx, [ids[OTHER]], PaperKind.LABEL)
    with pytest.raises(Refused, match="A label of 2 was printed"):
        remove(store, ids[OTHER])


@pytest.mark.parametrize(("carrier", "inside"), [(TWO, OTHER), (OTHER, TWO)])
def test_a_package_shared_with_another_order_cannot_be_removed(
    store: Store, ids: dict[PieceKey, int], carrier: PieceKey, inside: PieceKey
) -> None:
    with store.act("Pack") as tx:
        pieces.pack_into(tx, ids[carrier], [ids[inside]])
    with pytest.raises(Refused, match="1-2 is packed with another order"):
        remove(store, ids[TWO])
