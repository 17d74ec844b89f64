import pytest

from desk.domain.faults import Refused
from desk.session.papers.kinds import Paper
from desk.session.papers.printed import history, note_printed, printed_at, void_papers
from desk.session.undo import undo
from tests.session import made


@pytest.fixture
def stored(sitting):
    return made.stock(sitting, [made.order("1001"), made.order("1002")])


def test_printing_is_noted_is_not_undone_and_can_be_voided(stored, clock):
    note_printed(stored, [1, 2], Paper.LABELS)
    assert set(printed_at(stored, Paper.LABELS)) == {1, 2}
    assert printed_at(stored, Paper.SLIPS) == {}
    with pytest.raises(Refused):
        undo(stored)
    assert void_papers(stored, [2], Paper.LABELS) == 1
    assert void_papers(stored, [2], Paper.LABELS) == 0
    assert set(printed_at(stored, Paper.LABELS)) == {1}


def test_a_hand_over_sheet_is_of_no_piece(stored):
    note_printed(stored, [1], Paper.HAND_OVER)
    note_printed(stored, [], Paper.LABELS)
    assert printed_at(stored, Paper.HAND_OVER) == {}
    assert printed_at(stored, Paper.LABELS) == {}


def test_the_history_keeps_what_was_voided(stored):
    note_printed(stored, [1], Paper.SLIPS)
    void_papers(stored, [1], Paper.SLIPS)
    note_printed(stored, [1], Paper.SLIPS)
    note_printed(stored, [1], Paper.PACKING_SLIPS)
    assert [one.voided_at is None for one in history(stored, Paper.SLIPS, 1)] == [False, True]
    assert len(history(stored, Paper.PACKING_SLIPS, 1)) == 1
