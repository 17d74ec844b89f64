"""Split into packages on the Customs screen: by keyboard, refused until it adds up, and undone like any step."""

import pytest
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QApplication
from pytestqt.qtbot import QtBot

from desk.domain.orders.piece import PieceKey
from desk.session.bench.another_piece import add_piece
from desk.session.undo import undo
from desk.ui.bridge import Desk
from desk.ui.customs.view import CustomsView
from tests.ui.customs.test_view import choose

pytestmark = pytest.mark.screen(CustomsView, weighed=True, size=(1024, 560), in_front=True)


def split_piece(desk: Desk) -> int:
    return next(
        number
        for number, verdict in desk.pile.verdicts.items()
        if any(found.code == "contents-unknown" for found in verdict.findings)
    )


def test_an_order_is_split_into_two_packages_by_keyboard(qtbot: QtBot, view: CustomsView, desk: Desk) -> None:
    piece = split_piece(desk)
    editor = view.editor
    order = desk.pile.verdicts[piece].case.key.order
    choose(view, desk.pile.verdicts[piece].case.key.reference)
    assert editor.split is not None
    first = editor.split.fields[0][0]
    first.setValue(first.maximum() - 1)
    last = editor.split.fields[-1][-1]
    last.setFocus()
    qtbot.keyClick(last, Qt.Key.Key_Return)
    focus = QApplication.focusWidget()
    assert focus is not None
    assert view.isAncestorOf(focus)
    both = [verdict for verdict in desk.pile.verdicts.values() if verdict.case.key.order == order]
    assert all("contents-unknown" not in [found.code for found in verdict.findings] for verdict in both)
    assert all(verdict.declaration and verdict.declaration.lines for verdict in both)
    undo(desk.sitting)
    both = [verdict for verdict in desk.pile.verdicts.values() if verdict.case.key.order == order]
    assert all("contents-unknown" in [found.code for found in verdict.findings] for verdict in both)


def test_a_package_with_nothing_in_it_is_refused(qtbot: QtBot, view: CustomsView, desk: Desk) -> None:
    piece = split_piece(desk)
    choose(view, desk.pile.verdicts[piece].case.key.reference)
    assert view.editor.split is not None
    view.editor.split.save.click()
    assert any(found.code == "contents-unknown" for found in desk.pile.verdicts[piece].findings)


def test_a_saved_split_that_is_refused_keeps_the_focus_in_its_field(
    qtbot: QtBot, view: CustomsView, desk: Desk
) -> None:
    reference = desk.pile.verdicts[split_piece(desk)].case.key.reference
    choose(view, reference)
    split = view.editor.split
    assert split is not None
    first = split.fields[0][0]
    first.setValue(first.maximum() - 1)
    split.save.click()
    choose(view, reference)
    split = view.editor.split
    assert split is not None
    assert split.view.is_saved
    for field in (row[0] for row in split.fields):
        field.setValue(field.minimum())
    last = split.fields[-1][-1]
    last.setFocus()
    qtbot.keyClick(last, Qt.Key.Key_Return)
    assert QApplication.focusWidget() is last


def test_a_single_item_in_two_packages_has_no_field_and_is_scrolled_into_view(view: CustomsView, desk: Desk) -> None:
    desk.do(add_piece, PieceKey("1096", 2))
    choose(view, "1096-2")
    assert view.editor.split is not None
    assert view.editor.split.fields == []
    view.editor.focus_first_missing()
    assert not view.editor.split.visibleRegion().isEmpty()
    assert QApplication.focusWidget() is view.editor
