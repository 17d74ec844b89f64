"""The list of printings: shown instead of the preview, to show a document again or cancel it."""

from __future__ import annotations

from PySide6.QtCore import Qt
from pytestqt.qtbot import QtBot

from desk.session.papers.kinds import Paper
from desk.session.papers.printed import note_printed, printed_at
from desk.ui.bridge import Desk
from desk.ui.papers.model import PaperScope
from desk.ui.papers.view import PapersView
from tests.ui.papers.test_view import messages, queues, view  # noqa: F401 - fixtures


def test_before_any_printing_the_list_says_so(view: PapersView) -> None:  # noqa: F811
    view.middle.toggle()
    assert view.middle.printed.nothing.isVisible()
    assert not view.pages.isVisible()
    assert not view.middle.printed.cancel.isEnabled()
    view.middle.printed.back.click()
    assert view.pages.isVisible()


def test_a_printing_is_listed_shown_again_and_canceled(qtbot: QtBot, desk: Desk, view: PapersView) -> None:  # noqa: F811
    pieces = list(desk.pile.verdicts)[:2]
    references = [desk.pile.verdicts[one].case.key.reference for one in pieces]
    note_printed(desk.sitting, pieces, Paper.SLIPS)
    view.middle.toggle()
    listed = view.middle.printed
    row = [listed.model.data(listed.model.index(0, column)) for column in range(listed.model.columnCount())]
    assert row[1:3] == ["Number slips", "2 pieces"]
    assert row[3] == ", ".join(desk.pile.number_of(one) for one in references)
    assert row[4] == ""
    before = view.made
    qtbot.keyClick(listed.table, Qt.Key.Key_Return)
    qtbot.waitUntil(lambda: view.made is not before and not view.is_busy, timeout=15_000)
    assert view.made is not None
    assert (view.paper, view.side.which.value()) == (Paper.SLIPS, PaperScope.CHOSEN.value)
    assert set(view.made.references) == set(references)
    assert view.pages.isVisible()
    view.middle.toggle()
    qtbot.keyClick(listed, Qt.Key.Key_Delete)
    assert printed_at(desk.sitting, Paper.SLIPS) == {}
    assert (
        listed.model.data(listed.model.index(0, 4)) == row[0]
    )  # canceled in the same minute, since the clock does not move
    assert not listed.cancel.isEnabled()
