import pytest

from desk.domain.faults import Refused
from desk.session.papers import printed
from desk.session.papers.kinds import Paper
from desk.session.papers.printed import cancel_printing, history, note_printed, printed_at, printings, void_papers
from desk.session.undo import undo
from tests.session import made


@pytest.fixture
def stored(sitting):
    return made.stock(sitting, [made.order("1001"), made.order("1002")])


def test_a_printing_is_recorded_cannot_be_undone_and_can_be_canceled(stored, clock):
    note_printed(stored, [1, 2], Paper.LABELS)
    assert set(printed_at(stored, Paper.LABELS)) == {1, 2}
    assert printed_at(stored, Paper.SLIPS) == {}
    with pytest.raises(Refused):
        undo(stored)
    assert void_papers(stored, [2], Paper.LABELS) == 1
    assert void_papers(stored, [2], Paper.LABELS) == 0
    assert set(printed_at(stored, Paper.LABELS)) == {1}


def test_a_hand_over_sheet_belongs_to_no_piece(stored):
    note_printed(stored, [1], Paper.HAND_OVER)
    note_printed(stored, [], Paper.LABELS)
    assert printed_at(stored, Paper.HAND_OVER) == {}
    assert printed_at(stored, Paper.LABELS) == {}


def test_the_history_keeps_canceled_printings(stored):
    note_printed(stored, [1], Paper.SLIPS)
    void_papers(stored, [1], Paper.SLIPS)
    note_printed(stored, [1], Paper.SLIPS)
    note_printed(stored, [1], Paper.PACKING_SLIPS)
    assert [one.voided_at is None for one in history(stored, Paper.SLIPS, 1)] == [False, True]
    assert len(history(stored, Paper.PACKING_SLIPS, 1)) == 1


def test_printings_are_listed_by_step_the_latest_first(stored, clock):
    note_printed(stored, [2, 1], Paper.SLIPS)
    clock.forward(60)
    note_printed(stored, [1, 2], Paper.LABELS)
    labels, slips = printings(stored)
    assert (labels.paper, labels.references, labels.canceled_at) == (Paper.LABELS, ("1001-1", "1002-1"), None)
    assert (slips.paper, slips.references) == (Paper.SLIPS, ("1002-1", "1001-1"))
    assert (labels.at - slips.at).total_seconds() == 60


@pytest.mark.parametrize(("most", "listed"), [(4, [Paper.LABELS, Paper.SLIPS]), (3, [Paper.LABELS])])
def test_a_partial_printing_is_not_listed(stored, clock, monkeypatch, most, listed):
    monkeypatch.setattr(printed, "MOST_LISTED", most)
    note_printed(stored, [1, 2], Paper.SLIPS)
    clock.forward(60)
    note_printed(stored, [1, 2], Paper.LABELS)
    assert [one.paper for one in printings(stored)] == listed


def test_a_canceled_printing_stays_in_the_list_with_its_time_and_is_canceled_once(stored, clock):
    note_printed(stored, [1, 2], Paper.LABELS)
    void_papers(stored, [2], Paper.LABELS)
    two, one = printings(stored)
    assert ((one.references, one.canceled_at), two.references) == ((("1001-1",), None), ("1002-1",))
    clock.forward(60)
    cancel_printing(stored, one)
    assert printed_at(stored, Paper.LABELS) == {}
    first, second = sorted(printings(stored), key=lambda each: each.references)
    assert (first.canceled_at - second.canceled_at).total_seconds() == 60
    with pytest.raises(Refused):
        cancel_printing(stored, first)
