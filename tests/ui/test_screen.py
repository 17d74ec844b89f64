"""What every screen does: it waits while it is hidden, and repaints once for all it missed."""

from __future__ import annotations

import pytest
from pytestqt.qtbot import QtBot

from desk.domain.status import PieceStatus
from desk.session.pile.bulk_changes import set_beside
from desk.ui.bridge import ALL_OF_IT, Desk, DeskChanges, Event, OngoingState
from desk.ui.screen import Screen


class Plain(Screen):
    """A screen that records its notifications."""

    def __init__(self, desk: Desk) -> None:
        super().__init__(desk)
        self.told: list[DeskChanges] = []

    def refresh(self, told: DeskChanges) -> None:
        self.told.append(told)


@pytest.fixture
def screen(qtbot: QtBot, desk: Desk) -> Plain:
    made = Plain(desk)
    qtbot.addWidget(made)
    return made


def test_the_first_refresh_comes_when_it_is_shown(screen: Plain) -> None:
    assert screen.told == []
    screen.show()
    assert screen.told == [ALL_OF_IT]


def test_showing_it_again_repaints_nothing(screen: Plain) -> None:
    for _ in range(2):
        screen.show()
        screen.hide()
    assert len(screen.told) == 1


def test_a_visible_screen_follows_each_act(screen: Plain, desk: Desk) -> None:
    screen.show()
    for piece in (1, 2):
        desk.do(set_beside, [piece], PieceStatus.LOST)
    assert [told.pieces for told in screen.told[1:]] == [frozenset({1}), frozenset({2})]


def test_a_hidden_screen_collects_the_changes_it_missed(screen: Plain, desk: Desk) -> None:
    screen.show()
    screen.hide()
    for piece in (1, 2):
        desk.do(set_beside, [piece], PieceStatus.LOST)
    desk.undo()
    assert len(screen.told) == 1
    screen.show()
    assert [told.pieces for told in screen.told[1:]] == [frozenset({1, 2})]


def test_a_screen_has_only_the_find_key_by_default(screen: Plain) -> None:
    screen.add_keys()
    screen.pose("full")
    assert (tuple(screen.acts()), tuple(screen.jumps())) == ((), ())
    assert [action.text() for action in screen.actions()] == ["Find"]


def test_a_screen_that_cannot_refresh_is_a_bug(qtbot: QtBot, desk: Desk) -> None:
    bare = Screen(desk)
    qtbot.addWidget(bare)
    with pytest.raises(NotImplementedError):
        bare.refresh(ALL_OF_IT)


# --- what the desk announces


def test_states_are_listed_in_the_order_they_began(empty_desk: Desk) -> None:
    first, second = OngoingState("The scale is lost."), OngoingState("The list is old.", "note")
    empty_desk.state("scale", first)
    empty_desk.state("list", second)
    assert empty_desk.states == (first, second)
    empty_desk.state("scale", OngoingState("The scale is back.", "fine"))
    assert [state.words for state in empty_desk.states] == ["The list is old.", "The scale is back."]


def test_removing_an_unknown_state_announces_nothing(empty_desk: Desk) -> None:
    counted: list[int] = []
    empty_desk.states_changed.connect(lambda: counted.append(1))
    empty_desk.state("scale", None)
    assert counted == []


def test_a_quiet_act_shows_no_message_and_can_be_undone(desk: Desk) -> None:
    events: list[Event] = []
    desk.happened.connect(events.append)
    desk.do_quietly(set_beside, [1], PieceStatus.LOST)
    assert events == []
    assert desk.steps()[0] == "Lost: 1 piece"


@pytest.mark.parametrize("stand", [PieceStatus.LOST, PieceStatus.SET_ASIDE])
def test_each_status_set_by_hand_is_undone_and_redone(desk: Desk, stand: PieceStatus) -> None:
    desk.do(set_beside, [4, 5], stand)
    for act, wanted in ((desk.undo, PieceStatus.TO_WEIGH), (desk.redo, stand), (desk.undo, PieceStatus.TO_WEIGH)):
        act()
        assert {desk.pile.verdicts[piece].status for piece in (4, 5)} == {wanted}


def test_steps_are_undone_in_turn(desk: Desk) -> None:
    for piece, stand in ((4, PieceStatus.LOST), (5, PieceStatus.SET_ASIDE)):
        desk.do(set_beside, [piece], stand)
    desk.undo()
    assert desk.steps() == ("Lost: 1 piece", "Set aside: 1 piece")
    desk.undo()
    assert desk.steps()[1] == "Lost: 1 piece"
    assert desk.pile.verdicts[4].status is PieceStatus.TO_WEIGH
    assert desk.pile.verdicts[5].status is PieceStatus.TO_WEIGH


def test_a_new_act_ends_redo(desk: Desk) -> None:
    desk.do(set_beside, [4], PieceStatus.LOST)
    desk.undo()
    desk.do(set_beside, [5], PieceStatus.LOST)
    assert desk.steps()[1] == ""
    events: list[Event] = []
    desk.happened.connect(events.append)
    desk.redo()
    assert [event.mark for event in events] == ["stop"]
    assert events[0].words.endswith(".")
