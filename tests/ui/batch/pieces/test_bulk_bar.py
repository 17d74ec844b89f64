"""Many pieces at once by the keys, and a table that keeps its rows in the smallest window at 200%."""

from __future__ import annotations

from collections.abc import Callable, Iterator

import pytest
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QApplication
from pytestqt.qtbot import QtBot

from desk.domain.length import Size
from desk.ui.batch.pieces.rows import CONTENTS, PLACE
from desk.ui.batch.view import SHORTCUT, TITLE, BatchView
from desk.ui.bridge import Desk, OngoingState
from desk.ui.window import Window
from tests.ui.batch.test_view import messages, show


@pytest.fixture
def double(qapp: QApplication) -> Iterator[None]:
    font, larger = qapp.font(), qapp.font()
    larger.setPointSizeF(20)
    qapp.setFont(larger)
    yield
    qapp.setFont(font)


def test_x_asks_for_the_size_of_the_selected_pieces(qtbot: QtBot, desk: Desk, weigh_demo: Callable[[], None]) -> None:
    view = show(qtbot, desk)
    weigh_demo()
    piece = view.list.chosen()[0]
    qtbot.keyClick(view.list.table, Qt.Key.Key_X)
    assert view.list.many.size_field.hasFocus()
    qtbot.keyClicks(view.list.many.size_field, "9 x 6 x 0.5")
    qtbot.keyClick(view.list.many.size_field, Qt.Key.Key_Return)
    weighing = desk.pile.verdicts[piece].case.weighing
    assert weighing is not None
    assert weighing.size == Size.of("9", "6", "0.5", "in")
    assert view.list.many.size_field.isHidden()
    assert view.list.table.hasFocus()
    desk.undo()
    assert desk.pile.verdicts[piece].case.weighing != weighing


def test_an_invalid_size_stays_in_its_field(qtbot: QtBot, desk: Desk) -> None:
    view, events = show(qtbot, desk), messages(desk)
    qtbot.keyClick(view.list.table, Qt.Key.Key_X)
    qtbot.keyClicks(view.list.many.size_field, "large")
    qtbot.keyClick(view.list.many.size_field, Qt.Key.Key_Return)
    assert view.list.many.size_field.text() == "large"
    assert "9 x 6 x 0.25" in events[-1].words


@pytest.fixture
def smallest(qtbot: QtBot, weighed_desk: Desk) -> BatchView:
    """The list in the smallest window with a strip."""
    weighed_desk.is_demo = True
    weighed_desk.state("demo", OngoingState("Demo shop. Nothing you do here is saved.", "note", (("On my own", str),)))
    window = Window([TITLE, "Bench", "Customs", "Papers", "Hand-over", "Costs", "Setup"])
    qtbot.addWidget(window)
    window.seat(weighed_desk, [(TITLE, SHORTCUT, BatchView(weighed_desk))])
    window.resize(1024, 640)
    window.show()
    QApplication.processEvents()
    view = window.screen_of(TITLE)
    assert isinstance(view, BatchView)
    return view


@pytest.mark.usefixtures("double")
def test_four_rows_are_visible_at_200_percent_with_a_strip(smallest: BatchView) -> None:
    table = smallest.list.table
    assert table.viewport().height() >= 4 * table.rowHeight(0)
    assert smallest.list.bar.search.isVisible()


@pytest.mark.usefixtures("double")
def test_place_and_contents_of_the_selected_piece_are_readable_at_200_percent(smallest: BatchView) -> None:
    pieces = smallest.list
    row = next(row for row, one in enumerate(pieces.model.shown) if len(one.cells[PLACE] + one.cells[CONTENTS]) > 40)
    pieces.table.selectRow(row)
    QApplication.processEvents()
    assert not pieces.table.isColumnHidden(PLACE)
    assert not pieces.table.isColumnHidden(CONTENTS)
    cells = pieces.model.shown[row].cells
    below = " ".join(filter(None, pieces.many.seen()))
    for column in (PLACE, CONTENTS):
        cut = cells[column] in pieces.table.cut_texts(row)
        assert not cut or cells[column] in below


def test_a_large_window_shows_all_bars(qtbot: QtBot, desk: Desk) -> None:
    view = show(qtbot, desk)
    assert view.list.bar.code.isVisible()
    view.resize(1024, 260)
    QApplication.processEvents()
    assert not view.list.bar.code.isVisible()
    view.resize(1024, 640)
    QApplication.processEvents()
    assert view.list.bar.code.isVisible()
