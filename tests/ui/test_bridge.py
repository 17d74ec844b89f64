from __future__ import annotations

from datetime import timedelta

import pytest

from desk.domain.changes import Changes
from desk.domain.faults import Refused
from desk.domain.status import PieceStatus
from desk.session.pile.bulk_changes import set_beside
from desk.session.pile.mailing_date import post_on
from desk.session.sitting import Sitting
from desk.session.words.figures import day_in_words
from desk.ui.bridge import ALL_OF_IT, OLD_VIEW, Desk, DeskChanges, Event, OngoingState


def heard(desk: Desk) -> tuple[list[DeskChanges], list[Event]]:
    reported: list[DeskChanges] = []
    events: list[Event] = []
    desk.changed.connect(reported.append)
    desk.happened.connect(events.append)
    return reported, events


def test_an_act_is_announced_to_every_screen_once_and_can_be_undone(desk: Desk) -> None:
    reported, events = heard(desk)
    desk.do(set_beside, [1, 2], PieceStatus.SET_ASIDE)
    assert [one.pieces for one in reported] == [frozenset({1, 2})]
    assert events == [Event("Set aside: 2 pieces", undo=True)]
    assert desk.pile.verdicts[1].status == PieceStatus.SET_ASIDE


def test_the_same_act_on_another_piece_is_announced_again(desk: Desk) -> None:
    _, events = heard(desk)
    desk.do(set_beside, [1], PieceStatus.SET_ASIDE)
    desk.do(set_beside, [2], PieceStatus.SET_ASIDE)
    assert [event.words for event in events] == ["Set aside: 1 piece"] * 2


def test_an_act_that_changes_nothing_is_not_announced(desk: Desk) -> None:
    desk.do(set_beside, [1], PieceStatus.SET_ASIDE)
    _, events = heard(desk)
    desk.do(set_beside, [1], PieceStatus.SET_ASIDE)
    assert events == []


def test_a_refusal_is_shown_in_its_own_sentence(desk: Desk) -> None:
    def refuses(_sitting: Sitting) -> int:
        raise Refused("Not now.")

    _, events = heard(desk)
    assert desk.do(refuses) is None
    assert events == [Event("Not now.", "stop")]


def test_a_bug_in_an_act_is_not_shown_as_a_refusal(desk: Desk) -> None:
    def breaks(_sitting: Sitting) -> None:
        raise ZeroDivisionError

    with pytest.raises(ZeroDivisionError):
        desk.do(breaks)


def test_undo_and_redo_name_the_step(desk: Desk) -> None:
    desk.do(set_beside, [3], PieceStatus.LOST)
    assert desk.steps() == ("Lost: 1 piece", "")
    _, events = heard(desk)
    desk.undo()
    assert desk.pile.verdicts[3].status == PieceStatus.TO_WEIGH
    assert desk.steps()[1] == "Lost: 1 piece"
    desk.redo()
    assert desk.pile.verdicts[3].status == PieceStatus.LOST
    assert [event.words for event in events] == ["Undone: Lost: 1 piece", "Redone: Lost: 1 piece"]


def test_undo_without_a_step_says_so(empty_desk: Desk) -> None:
    _, events = heard(empty_desk)
    empty_desk.undo()
    assert [event.mark for event in events] == ["stop"]


def test_an_ongoing_state_stays_until_it_ends(empty_desk: Desk) -> None:
    counted: list[None] = []
    empty_desk.states_changed.connect(lambda: counted.append(None))
    lost = OngoingState("The scale is lost.")
    empty_desk.state("scale", lost)
    empty_desk.state("scale", lost)
    assert (empty_desk.states, len(counted)) == ((lost,), 1)
    empty_desk.state("scale", None)
    assert (empty_desk.states, len(counted)) == ((), 2)


def test_reading_everything_again_announces_everything(desk: Desk) -> None:
    reported, _ = heard(desk)
    desk.read_all()
    assert reported == [ALL_OF_IT]


def test_a_new_day_prices_everything_for_it(desk: Desk) -> None:
    reported, events = heard(desk)
    tomorrow = desk.sitting.on + timedelta(days=1)
    desk.turn_to(tomorrow)
    desk.turn_to(tomorrow)
    assert (desk.pile.terms.on, reported) == (tomorrow, [ALL_OF_IT])
    assert events == [Event(f"It's a new day. Prices are now for {day_in_words(tomorrow)}.")]


def test_a_new_day_keeps_a_chosen_date_in_the_future(desk: Desk) -> None:
    chosen = desk.sitting.on + timedelta(days=3)
    desk.do(post_on, chosen)
    reported, events = heard(desk)
    desk.turn_to(desk.sitting.on + timedelta(days=2))
    assert (desk.pile.terms.on, reported, events) == (chosen, [], [])


def test_changes_for_screens_are_combined() -> None:
    both = DeskChanges(frozenset({1}), Changes(shop=True)) | DeskChanges(frozenset({2}), Changes(orders=frozenset({5})))
    assert both == DeskChanges(frozenset({1, 2}), Changes(orders=frozenset({5}), shop=True))


def test_data_that_could_not_be_read_after_a_step_is_reported_and_read_later(
    desk: Desk, monkeypatch: pytest.MonkeyPatch
) -> None:
    reported, events = heard(desk)

    def refuses(*_words: object) -> None:
        raise Refused("The disk cannot be read.")

    with monkeypatch.context() as away:
        away.setattr("desk.session.pile.following.judged_pieces.read_stored", refuses)
        desk.do(set_beside, [1], PieceStatus.SET_ASIDE)
        assert desk.sitting.store.is_unsure
        assert [state.words for state in desk.states] == [OLD_VIEW]
        desk.read_all()
        assert [state.words for state in desk.states] == [OLD_VIEW]
    assert (reported, events) == ([], [Event("Set aside: 1 piece", undo=True)])
    assert desk.pile.verdicts[1].status != PieceStatus.SET_ASIDE
    desk.do(set_beside, [2], PieceStatus.SET_ASIDE)
    assert [desk.pile.verdicts[piece].status for piece in (1, 2)] == [PieceStatus.SET_ASIDE] * 2
    assert desk.states == ()
