"""Stamps told before stamping, stamps on, handed over; each by a key, each one step to undo."""

from __future__ import annotations

from collections import Counter

import pytest
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QLabel
from pytestqt.qtbot import QtBot

from desk.domain.stands import Stand
from desk.session.papers.hand_over import to_stamp
from desk.session.papers.stamps_on import pile_stamps
from desk.ui.bridge import Desk, Event
from desk.ui.handover.view import HandOverView


@pytest.fixture
def view(qtbot: QtBot, weighed_desk: Desk) -> HandOverView:
    made = HandOverView(weighed_desk)
    qtbot.addWidget(made)
    made.add_keys()
    made.show()
    made.activateWindow()
    with qtbot.waitActive(made):
        pass
    made.arrive()
    return made


def stands(desk: Desk) -> Counter[Stand]:
    return Counter(verdict.stands for verdict in desk.pile.verdicts.values())


def said(desk: Desk) -> list[Event]:
    events: list[Event] = []
    desk.happened.connect(events.append)
    return events


def test_the_rows_know_their_pieces(view: HandOverView, weighed_desk: Desk) -> None:
    assert len(view._pieces) == len(view.model.rows)
    for row, pieces in zip(view.model.rows, view._pieces, strict=True):
        if row[1]:
            case = weighed_desk.pile.verdicts[pieces[0]].case
            assert (len(pieces), row[0] in (case.key.order, case.key.reference)) == (1, True)


def test_the_kinds_of_stamps_are_told_before_stamping(view: HandOverView, weighed_desk: Desk) -> None:
    totals = pile_stamps(weighed_desk.pile.batch())
    assert totals
    assert view.stamps.accessibleName() == f"Stamps to lay out: {'; '.join(total.words for total in totals)}."
    shown = [label.text() for label in view.stamps.findChildren(QLabel) if label.isVisible()]
    assert shown == [words for total in totals for words in (total.kinds, f"{total.left} left")]


def test_a_kind_that_runs_low_has_a_mark_and_its_words(view: HandOverView, weighed_desk: Desk) -> None:
    totals = pile_stamps(weighed_desk.pile.batch())
    marks = [token._low.isVisible() for token in view.stamps._tokens]
    assert marks == [total.runs_low for total in totals]
    assert any(marks)
    assert [token.accessibleName() for token in view.stamps._tokens] == [total.words for total in totals]


def test_the_line_of_stamps_has_only_what_is_still_to_be_put_on(view: HandOverView, weighed_desk: Desk) -> None:
    before = len(pile_stamps(weighed_desk.pile.batch()))
    view.stamp_everything()
    left = pile_stamps(weighed_desk.pile.batch())  # of pieces that need a look
    assert 0 < len(left) < before
    assert [token.accessibleName() for token in view.stamps._tokens if token.isVisible()] == [
        total.words for total in left
    ]


def test_the_line_of_stamps_wraps_and_shows_every_kind(qtbot: QtBot, view: HandOverView) -> None:
    view.resize(600, 500)
    tokens = [token for token in view.stamps._tokens if token.isVisible()]
    qtbot.waitUntil(lambda: len({token.y() for token in tokens}) > 1)
    assert all(view.stamps.rect().contains(token.geometry()) for token in tokens)


def test_without_stamps_there_is_no_line_of_stamps(view: HandOverView) -> None:
    view.stamps.show_totals(())
    assert (view.stamps.isVisible(), view.stamps.accessibleName()) == (False, "")


def test_all_stamps_are_on_by_one_key_and_off_by_one_undo(qtbot: QtBot, view: HandOverView, weighed_desk: Desk) -> None:
    waiting, before = to_stamp(weighed_desk.pile), stands(weighed_desk)
    drawer = weighed_desk.pile.terms.shop.stamps
    assert waiting
    qtbot.keyClick(view.focusWidget(), Qt.Key.Key_L)
    assert stands(weighed_desk)[Stand.LABELED] == before[Stand.LABELED] + len(waiting)
    assert sum(s.count for s in weighed_desk.pile.terms.shop.stamps) < sum(s.count for s in drawer)
    weighed_desk.undo()
    assert stands(weighed_desk) == before
    assert weighed_desk.pile.terms.shop.stamps == drawer


def test_only_the_chosen_piece_is_stamped(qtbot: QtBot, view: HandOverView, weighed_desk: Desk) -> None:
    piece = to_stamp(weighed_desk.pile)[0]
    view.table.selectRow(view._pieces.index((piece,)))
    qtbot.keyClick(view.focusWidget(), Qt.Key.Key_S)
    labeled = [n for n, verdict in weighed_desk.pile.verdicts.items() if verdict.stands is Stand.LABELED]
    assert labeled == [piece]


def test_stamps_of_the_chosen_piece_come_off_again(qtbot: QtBot, view: HandOverView, weighed_desk: Desk) -> None:
    told, before = said(weighed_desk), stands(weighed_desk)
    stock = [one.count for one in weighed_desk.pile.terms.shop.stamps]
    row = next(at for at, pieces in enumerate(view._pieces) if pieces == to_stamp(weighed_desk.pile)[:1])
    view.table.selectRow(row)
    qtbot.keyClick(view.table, Qt.Key.Key_O)
    assert told[-1].words == "Nothing selected has its stamps on."
    qtbot.keyClick(view.table, Qt.Key.Key_S)
    assert stands(weighed_desk)[Stand.LABELED] == before[Stand.LABELED] + 1
    view.table.selectRow(row)
    qtbot.keyClick(view.table, Qt.Key.Key_O)
    assert stands(weighed_desk) == before
    assert [one.count for one in weighed_desk.pile.terms.shop.stamps] == stock


def test_a_group_is_handed_over_after_its_stamps_and_comes_back(
    qtbot: QtBot, view: HandOverView, weighed_desk: Desk
) -> None:
    piece = to_stamp(weighed_desk.pile)[0]
    heading = next(at for at, pieces in enumerate(view._pieces) if piece in pieces and not view.model.rows[at][1])
    group, events = view._pieces[heading], said(weighed_desk)
    view.table.selectRow(heading)
    qtbot.keyClick(view.focusWidget(), Qt.Key.Key_H)
    assert events[-1].mark == "stop"
    assert "is waiting for its stamps" in events[-1].words
    qtbot.keyClick(view.focusWidget(), Qt.Key.Key_L)
    view.table.selectRow(next(at for at, pieces in enumerate(view._pieces) if pieces == group))
    qtbot.keyClick(view.focusWidget(), Qt.Key.Key_H)
    assert {weighed_desk.pile.verdicts[number].stands for number in group} == {Stand.HANDED_OVER}
    assert not any(piece in pieces for pieces in view._pieces)
    weighed_desk.undo()
    assert {weighed_desk.pile.verdicts[number].stands for number in group} == {Stand.LABELED}


def test_nothing_to_stamp_is_said(qtbot: QtBot, view: HandOverView, weighed_desk: Desk) -> None:
    qtbot.keyClick(view.focusWidget(), Qt.Key.Key_L)
    events = said(weighed_desk)
    view.stamp_everything()
    view.stamp_chosen()
    assert [event.words for event in events] == [
        "No ready piece is waiting for stamps.",
        "Nothing selected is waiting for stamps.",
    ]
