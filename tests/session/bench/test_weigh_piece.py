"""One piece weighed at the bench: named in the step, told, kept with all that was said."""

import pytest

from desk.domain.changes import Changes
from desk.domain.length import Size
from desk.domain.piece import PieceKey
from desk.session.bench.weigh import weigh
from desk.session.bench.weigh_piece import weigh_piece
from desk.session.importing.import_orders import take_in_orders
from desk.session.pile.stored_cases import read_stored
from desk.session.sitting import Sitting
from desk.session.undo import next_steps, undo
from desk.session.unreported import untold
from desk.store import pieces
from tests.session.made import order, weighing


@pytest.fixture
def full(sitting: Sitting) -> Sitting:
    take_in_orders(sitting, [order("1"), order("2")])
    return sitting


def test_it_is_kept_with_all_that_was_said(full: Sitting) -> None:
    said = weighing("2.7", "Padded", size=Size.of("9", "7", "1", "in"), stiff=True, uneven=False)
    second = read_stored(full)[1]
    weigh_piece(full, second.id, said)
    assert [stored.case.weighing for stored in read_stored(full)] == [None, said]


def test_the_step_bears_the_reference_of_the_piece(full: Sitting) -> None:
    weigh(full, [(PieceKey("2", 2), weighing())])
    number = next(stored.id for stored in read_stored(full) if stored.case.key == PieceKey("2", 2))
    weigh_piece(full, number, weighing("1.1"))
    assert next_steps(full)[0] == "Weigh 2-2"


def test_only_that_piece_is_announced(full: Sitting) -> None:
    told: list[Changes] = []
    full.listeners.append(told.append)
    number = read_stored(full)[1].id
    weigh_piece(full, number, weighing())
    assert [changes.pieces for changes in told] == [{number}]


def test_every_weighing_is_kept_and_the_last_counts(full: Sitting) -> None:
    number = read_stored(full)[0].id
    for value in ("0.7", "0.7", "0.9"):
        weigh_piece(full, number, weighing(value))
    with full.store.reading() as conn:
        piece = pieces.piece(conn, number)
    assert (piece.weighing, piece.weighings_count) == (weighing("0.9"), 3)
    undo(full)
    assert read_stored(full)[0].case.weighing == weighing("0.7")


def test_a_person_at_the_bench_need_not_be_told(full: Sitting) -> None:
    number = read_stored(full)[0].id
    weigh_piece(full, number, weighing("0.7"))
    weigh_piece(full, number, weighing("0.9"))
    assert untold(full) == []


def test_no_such_piece_leaves_everything_as_it_was(full: Sitting) -> None:
    told: list[Changes] = []
    full.listeners.append(told.append)
    before = full.store.revision
    with pytest.raises(KeyError):
        weigh_piece(full, 999, weighing())
    assert (full.store.revision, told) == (before, [])
