"""Undo and redo: named, in order, announced to listeners, and refused with a sentence."""

import pytest

from desk.domain.changes import Changes
from desk.domain.faults import Refused
from desk.domain.orders.piece import PieceKey
from desk.domain.status import PieceStatus
from desk.session.bench.answers import answer_looks
from desk.session.bench.weigh import weigh
from desk.session.pile.bulk_changes import choose_service, set_beside
from desk.session.pile.stored_cases import read_stored
from desk.session.sitting import Sitting
from desk.session.undo import is_last_at_bench, next_steps, redo, undo
from tests.session.made import order, weighing

pytestmark = pytest.mark.stocked([order("1"), order("2")])


def shown(sitting: Sitting) -> list[str]:
    weighings = [stored.case.weighing for stored in read_stored(sitting)]
    return [str(one.shown.value) if one else "" for one in weighings]


def test_steps_are_undone_newest_first_and_redone_in_order(full: Sitting) -> None:
    weigh(full, [(PieceKey("1"), weighing("0.7"))])
    weigh(full, [(PieceKey("2"), weighing("1.7"))])
    assert [undo(full), undo(full)] == ["Weighed 2", "Weighed 1"]
    assert shown(full) == ["", ""]
    assert redo(full) == "Weighed 1"
    assert shown(full) == ["0.7", ""]
    assert redo(full) == "Weighed 2"
    assert shown(full) == ["0.7", "1.7"]


def test_the_next_undo_and_redo_are_named(full: Sitting) -> None:
    assert next_steps(full) == ("Orders imported", "")
    weigh(full, [(PieceKey("1"), weighing())])
    assert next_steps(full) == ("Weighed 1", "")
    undo(full)
    assert next_steps(full) == ("Orders imported", "Weighed 1")
    undo(full)
    assert next_steps(full) == ("Shop file imported", "Orders imported")
    undo(full)
    assert next_steps(full) == ("", "Shop file imported")


def test_a_new_act_ends_every_redo(full: Sitting) -> None:
    weigh(full, [(PieceKey("1"), weighing())])
    undo(full)
    weigh(full, [(PieceKey("2"), weighing())])
    assert next_steps(full) == ("Weighed 2", "")
    with pytest.raises(Refused, match=r"^There is nothing to redo\.$"):
        redo(full)


def test_undo_without_a_step_says_so(sitting: Sitting) -> None:
    with pytest.raises(Refused, match=r"^There is nothing to undo\.$"):
        undo(sitting)


def test_a_step_without_changes_is_not_recorded(full: Sitting) -> None:
    weigh(full, [(PieceKey("1"), weighing())])
    weigh(full, [(PieceKey("1"), weighing())])
    assert undo(full) == "Weighed 1"
    assert next_steps(full)[0] == "Orders imported"


def test_undo_restores_the_previous_weight(full: Sitting) -> None:
    weigh(full, [(PieceKey("1"), weighing("0.7"))])
    weigh(full, [(PieceKey("1"), weighing("1.7"))])
    undo(full)
    assert shown(full) == ["0.7", ""]


def test_listeners_are_told_which_piece_changed(full: Sitting) -> None:
    number = read_stored(full)[0].id
    weigh(full, [(PieceKey("1"), weighing())])
    reported: list[Changes] = []
    full.listeners.append(reported.append)
    undo(full)
    redo(full)
    assert [changes.pieces for changes in reported] == [{number}, {number}]


def test_a_refused_undo_announces_nothing(sitting: Sitting) -> None:
    reported: list[Changes] = []
    sitting.listeners.append(reported.append)
    with pytest.raises(Refused):
        undo(sitting)
    assert reported == []


def test_undoing_an_answer_reopens_the_issue(full: Sitting) -> None:
    number = read_stored(full)[0].id
    answer_looks(full, number, ["size-missing"], number="1-1")
    assert undo(full) == "Marked 1-1 as checked"
    assert read_stored(full)[0].case.answered == frozenset()
    redo(full)
    assert read_stored(full)[0].case.answered == {"size-missing"}


@pytest.mark.parametrize(
    ("act", "expected"),
    [
        (lambda it: weigh(it, [(PieceKey("1"), weighing())]), True),
        (lambda it: weigh(it, [(PieceKey("1"), weighing()), (PieceKey("2"), weighing())]), False),
        (lambda it: set_beside(it, [1], PieceStatus.SET_ASIDE), True),
        (lambda it: set_beside(it, [1, 2], PieceStatus.SET_ASIDE), False),
        (lambda it: set_beside(it, [1], PieceStatus.LOST), False),
        (lambda it: choose_service(it, [1], "flat"), True),
        (lambda it: choose_service(it, [1, 2], "flat"), False),
    ],
)
def test_steps_on_a_single_open_piece_belong_to_the_bench(full: Sitting, act, expected: bool) -> None:
    assert is_last_at_bench(full) is False
    act(full)
    assert is_last_at_bench(full) is expected
    undo(full)
    assert is_last_at_bench(full) is False
    redo(full)
    assert is_last_at_bench(full) is expected


def test_putting_a_piece_back_is_a_step_of_the_bench(full: Sitting) -> None:
    set_beside(full, [1], PieceStatus.SET_ASIDE)
    set_beside(full, [1], None)
    assert (next_steps(full)[0], is_last_at_bench(full)) == ("Put back: 1 piece", True)
