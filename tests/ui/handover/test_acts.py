"""Stamps listed before stamping, stamps put on, pieces handed over; each by one key and one step to undo."""

from __future__ import annotations

from collections import Counter
from pathlib import Path

import pypdfium2
import pytest
from PySide6.QtCore import QItemSelectionModel
from PySide6.QtGui import QKeySequence
from PySide6.QtWidgets import QLabel, QWidget
from pytestqt.qtbot import QtBot

from desk.domain.status import PieceStatus
from desk.session.papers.hand_over import to_stamp
from desk.session.papers.stamps_on import pile_stamps
from desk.ui import common_keys as keys
from desk.ui.bridge import Desk, Event
from desk.ui.handover.view import HandOverView

pytestmark = pytest.mark.screen(HandOverView, desk="weighed_desk", in_front=True)


def press(qtbot: QtBot, widget: QWidget, spelled: str) -> None:
    pressed = QKeySequence(spelled)[0]
    qtbot.keyClick(widget, pressed.key(), pressed.keyboardModifiers())


def choose(view: HandOverView, row: int) -> None:
    """Select just this row; `selectRow` would add to the selection where Ctrl was pressed last."""
    flags = QItemSelectionModel.SelectionFlag.ClearAndSelect | QItemSelectionModel.SelectionFlag.Rows
    view.table.selectionModel().setCurrentIndex(view.model.index(row, 0), flags)


def status(desk: Desk) -> Counter[PieceStatus]:
    return Counter(verdict.status for verdict in desk.pile.verdicts.values())


def messages(desk: Desk) -> list[Event]:
    events: list[Event] = []
    desk.happened.connect(events.append)
    return events


def test_each_row_belongs_to_its_piece(view: HandOverView, weighed_desk: Desk) -> None:
    assert len(view._pieces) == len(view.model.rows)
    for row, pieces in zip(view.model.rows, view._pieces, strict=True):
        if row[1]:
            case = weighed_desk.pile.verdicts[pieces[0]].case
            assert (len(pieces), row[0] in (case.key.order, case.key.reference)) == (1, True)


def test_the_kinds_of_stamps_are_reported_before_stamping(view: HandOverView, weighed_desk: Desk) -> None:
    totals = pile_stamps(weighed_desk.pile.batch())
    assert totals
    assert view.stamps.accessibleName() == f"Stamps needed: {'; '.join(total.words for total in totals)}."
    shown = [label.text() for label in view.stamps.findChildren(QLabel) if label.isVisible()]
    assert shown == [words for total in totals for words in (total.kinds, f"{total.left} left")]


def test_a_kind_that_runs_low_has_a_mark_and_its_words(view: HandOverView, weighed_desk: Desk) -> None:
    totals = pile_stamps(weighed_desk.pile.batch())
    marks = [token._low.isVisible() for token in view.stamps._tokens]
    assert marks == [total.runs_low for total in totals]
    assert any(marks)
    assert [token.accessibleName() for token in view.stamps._tokens] == [total.words for total in totals]


def test_the_line_of_stamps_has_only_those_still_to_put_on(view: HandOverView, weighed_desk: Desk) -> None:
    before = len(pile_stamps(weighed_desk.pile.batch()))
    view.stamp_everything()
    left = pile_stamps(weighed_desk.pile.batch())  # of pieces that need a check
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


def test_one_key_puts_all_stamps_on_and_one_undo_takes_them_off(
    qtbot: QtBot, view: HandOverView, weighed_desk: Desk
) -> None:
    waiting, before = to_stamp(weighed_desk.pile), status(weighed_desk)
    drawer = weighed_desk.pile.terms.shop.stamps
    assert waiting
    press(qtbot, view.focusWidget(), keys.ALL_STAMPED)
    assert status(weighed_desk)[PieceStatus.LABELED] == before[PieceStatus.LABELED] + len(waiting)
    assert sum(s.count for s in weighed_desk.pile.terms.shop.stamps) < sum(s.count for s in drawer)
    weighed_desk.undo()
    assert status(weighed_desk) == before
    assert weighed_desk.pile.terms.shop.stamps == drawer


def test_only_the_selected_piece_is_stamped(qtbot: QtBot, view: HandOverView, weighed_desk: Desk) -> None:
    piece = to_stamp(weighed_desk.pile)[0]
    choose(view, view._pieces.index((piece,)))
    press(qtbot, view.focusWidget(), keys.STAMPED)
    labeled = [n for n, verdict in weighed_desk.pile.verdicts.items() if verdict.status is PieceStatus.LABELED]
    assert labeled == [piece]


def test_stamps_of_the_selected_piece_can_be_taken_off(qtbot: QtBot, view: HandOverView, weighed_desk: Desk) -> None:
    reported, before = messages(weighed_desk), status(weighed_desk)
    stock = [one.count for one in weighed_desk.pile.terms.shop.stamps]
    row = next(at for at, pieces in enumerate(view._pieces) if pieces == to_stamp(weighed_desk.pile)[:1])
    choose(view, row)
    press(qtbot, view.table, keys.UNSTAMPED)
    assert reported[-1].words == "Nothing selected has its postage on."
    press(qtbot, view.table, keys.STAMPED)
    assert status(weighed_desk)[PieceStatus.LABELED] == before[PieceStatus.LABELED] + 1
    choose(view, row)
    press(qtbot, view.table, keys.UNSTAMPED)
    assert status(weighed_desk) == before
    assert [one.count for one in weighed_desk.pile.terms.shop.stamps] == stock


def test_a_group_is_handed_over_with_its_stamps_and_undone(
    qtbot: QtBot, view: HandOverView, weighed_desk: Desk
) -> None:
    piece = to_stamp(weighed_desk.pile)[0]
    heading = next(at for at, pieces in enumerate(view._pieces) if piece in pieces and not view.model.rows[at][1])
    group, events = view._pieces[heading], messages(weighed_desk)
    choose(view, heading)
    press(qtbot, view.focusWidget(), keys.HAND_OVER)
    assert events[-1].mark == "stop"
    assert "is waiting for its stamps" in events[-1].words
    press(qtbot, view.focusWidget(), keys.ALL_STAMPED)
    choose(view, next(at for at, pieces in enumerate(view._pieces) if pieces == group))
    press(qtbot, view.focusWidget(), keys.HAND_OVER)
    assert {weighed_desk.pile.verdicts[number].status for number in group} == {PieceStatus.HANDED_OVER}
    assert not any(piece in pieces for pieces in view._pieces)
    weighed_desk.undo()
    assert {weighed_desk.pile.verdicts[number].status for number in group} == {PieceStatus.LABELED}


def test_nothing_to_stamp_is_reported(qtbot: QtBot, view: HandOverView, weighed_desk: Desk) -> None:
    press(qtbot, view.focusWidget(), keys.ALL_STAMPED)
    events = messages(weighed_desk)
    view.stamp_everything()
    view.stamp_chosen()
    assert [event.words for event in events] == [
        "No ready piece is waiting for stamps.",
        "Nothing selected is waiting for stamps.",
    ]


# --- everything at once, and the days that are over


def test_one_key_hands_over_everything_ready_and_one_undo_reverses_it(
    qtbot: QtBot, view: HandOverView, weighed_desk: Desk
) -> None:
    before, drawer = status(weighed_desk), weighed_desk.pile.terms.shop.stamps
    events = messages(weighed_desk)
    press(qtbot, view.focusWidget(), keys.HAND_ALL_OVER)
    assert status(weighed_desk)[PieceStatus.HANDED_OVER] == before[PieceStatus.READY]
    assert status(weighed_desk)[PieceStatus.READY] == 0
    assert events[-1].words == f"Everything ready handed over: {before[PieceStatus.READY]} pieces."
    assert weighed_desk.pile.terms.shop.stamps != drawer
    weighed_desk.undo()
    assert status(weighed_desk) == before
    assert weighed_desk.pile.terms.shop.stamps == drawer


def test_mailed_pieces_are_listed_by_day_and_leave_the_table(
    qtbot: QtBot, view: HandOverView, weighed_desk: Desk
) -> None:
    assert not view.days.isVisible()
    listed, total = [row for row in view.model.rows if row[1]], view.total.text()
    view.hand_over_everything()
    assert view.nothing.isVisible()
    assert "to check" in view.nothing.more.text()
    press(qtbot, view.focusWidget() or view, keys.LEFT)
    assert sorted(row for row in view.model.rows if row[1]) == sorted(listed)
    assert view.total.text() == f"Handed over: {total}"
    assert not view.handed.isVisible()
    events = messages(weighed_desk)
    press(qtbot, view.focusWidget() or view, keys.HAND_OVER)
    assert events[-1].words == "These have already left. Ctrl+Z undoes the last hand-over."
    press(qtbot, view.focusWidget() or view, keys.LATER)
    assert view.nothing.isVisible()
    press(qtbot, view.focusWidget() or view, keys.EARLIER)
    assert view.days.day is not None
    press(qtbot, view.focusWidget() or view, "Escape")
    assert view.days.day is None


def test_the_sheet_of_a_day_is_saved_again(qtbot: QtBot, view: HandOverView, tmp_path: Path) -> None:
    view.hand_over_everything()
    view.days.toggle()
    pieces = sum(bool(row[1]) for row in view.model.rows)
    view.save_to(tmp_path / "again.pdf")
    qtbot.waitUntil((tmp_path / "again.pdf").exists, timeout=20_000)
    pdf = pypdfium2.PdfDocument(tmp_path / "again.pdf")
    text = "".join(page.get_textpage().get_text_range() for page in pdf)
    assert f"{pieces} pieces received" in text


def test_a_sheet_without_a_printer_says_where_to_choose_one(view: HandOverView, weighed_desk: Desk) -> None:
    events = messages(weighed_desk)
    view.print_it()
    assert events[-1].words.startswith("No printer is chosen for the hand-over sheet.")


def test_enter_opens_the_piece_of_a_row_on_the_bench(qtbot: QtBot, view: HandOverView, weighed_desk: Desk) -> None:
    opened: list[int] = []
    weighed_desk.piece_opened.connect(opened.append)
    choose(view, 0)
    press(qtbot, view.table, "Return")
    assert opened == []  # a heading is no piece
    choose(view, 1)
    press(qtbot, view.table, "Return")
    assert opened == list(view._pieces[1])


def test_keys_of_the_list_do_nothing_while_bought_labels_cover_it(view: HandOverView, weighed_desk: Desk) -> None:
    choose(view, 1)
    assert len(view.chosen()) == 1
    steps = weighed_desk.steps()
    view.open_labels()
    for act in (view.stamp_chosen, view.hand_over_chosen, view.unstamp_chosen):
        act()
    assert weighed_desk.steps() == steps
    view.leave_labels()
    assert len(view.chosen()) == 1
