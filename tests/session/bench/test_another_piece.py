"""Another piece of an order: made under its number, once, and only where it is the next one."""

import pytest

from desk.domain.changes import Changes
from desk.domain.orders.piece import PieceKey
from desk.session.bench.another_piece import add_piece, next_piece_key
from desk.session.pile.stored_cases import read_stored
from desk.session.sitting import Sitting
from desk.session.undo import next_steps, undo
from tests.session.made import order

KNOWN = frozenset({PieceKey("7"), PieceKey("8"), PieceKey("8", 2), PieceKey("A-1"), PieceKey("B-2", 3)})


pytestmark = pytest.mark.stocked([order("7"), order("8")])


def references(sitting: Sitting) -> list[str]:
    return [stored.case.key.reference for stored in read_stored(sitting)]


def test_both_packages_know_that_the_order_has_two(full: Sitting) -> None:
    made = add_piece(full, PieceKey("7", 2))
    assert references(full) == ["7-1", "7-2", "8-1"]
    assert [stored.case.pieces_in_order for stored in read_stored(full)] == [2, 2, 1]
    assert read_stored(full)[1].id == made


def test_one_undo_removes_the_added_piece(full: Sitting) -> None:
    add_piece(full, PieceKey("7", 2))
    assert next_steps(full)[0] == "Piece 7-2 added"
    undo(full)
    assert references(full) == ["7-1", "8-1"]


def test_adding_the_same_number_again_gives_the_same_piece(full: Sitting) -> None:
    made, before = add_piece(full, PieceKey("7", 2)), full.store.revision
    assert add_piece(full, PieceKey("7", 2)) == made
    assert full.store.revision == before


def test_a_new_piece_is_announced(full: Sitting) -> None:
    reported: list[Changes] = []
    full.listeners.append(reported.append)
    made = add_piece(full, PieceKey("8", 2))
    assert [made in changes.pieces for changes in reported] == [True]


def test_an_unknown_order_cannot_get_a_piece(full: Sitting) -> None:
    before = full.store.revision
    assert add_piece(full, PieceKey("9", 2)) is None
    assert (references(full), full.store.revision) == (["7-1", "8-1"], before)


@pytest.mark.parametrize(
    ("number", "expected"),
    [
        ("7-2", PieceKey("7", 2)),
        (" 7-2 ", PieceKey("7", 2)),
        ("#8-3", PieceKey("8", 3)),
        ("8-2", None),
        ("8-4", None),
        ("8-0", None),
        ("A-1-2", PieceKey("A-1", 2)),
        ("A-2", None),
        ("B-2-4", PieceKey("B-2", 4)),
        ("7-", None),
        ("-2", None),
        ("7-²", None),
        ("7-\u0662", None),
        ("7--2", None),
        ("", None),
    ],
)
def test_only_the_next_number_of_a_known_order_is_added(number: str, expected: PieceKey | None) -> None:
    assert next_piece_key(number, KNOWN) == expected
