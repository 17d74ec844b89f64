"""The Costs and Hand-over tables in each state: empty, partial, full, undone; as models, and with little room."""

from __future__ import annotations

from collections.abc import Callable

import pytest
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QApplication
from pytestqt.modeltest import ModelTester
from pytestqt.qtbot import QtBot

from desk.domain.money import Money
from desk.domain.status import PieceStatus
from desk.session.pile.bulk_changes import set_beside
from desk.ui.bridge import Desk, OngoingState
from desk.ui.costs.pile_page import FIGURES, HEADS, PilePage
from desk.ui.costs.view import SHORTCUT, TITLE, CostsView
from desk.ui.handover.model import HEADS as HAND_OVER_HEADS
from desk.ui.handover.model import hand_over_list
from desk.ui.handover.view import HandOverView
from desk.ui.kit.table import ALIGN, RIGHT
from desk.ui.window import Window

View = CostsView | HandOverView


def part(view: View) -> PilePage | HandOverView:
    """Where the table of a screen is: Costs has it on a page."""
    return view.pile if isinstance(view, CostsView) else view


@pytest.fixture
def shown(qtbot: QtBot, weighed_desk: Desk) -> Callable[[type], View]:
    def show(kind: type, of: Desk = weighed_desk) -> View:
        view: View = kind(of)
        qtbot.addWidget(view)
        view.add_keys()
        view.resize(1280, 600)
        view.show()
        return view

    return show


KINDS = pytest.mark.parametrize("kind", [CostsView, HandOverView])


@KINDS
def test_the_model_passes_the_tests_of_qt(
    qtmodeltester: ModelTester, shown: Callable[[type], View], kind: type
) -> None:
    qtmodeltester.check(part(shown(kind)).model)


@KINDS
def test_the_focus_is_in_the_table_and_every_control_has_a_name(shown: Callable[[type], View], kind: type) -> None:
    view = shown(kind)
    view.arrive()
    assert part(view).table.focusPolicy() & Qt.FocusPolicy.TabFocus
    assert part(view).table.accessibleName()
    assert part(view).pages.currentWidget() is part(view).table


@KINDS
def test_a_piece_set_aside_leaves_or_stays_and_undo_brings_the_same_rows_back(
    shown: Callable[[type], View], weighed_desk: Desk, kind: type
) -> None:
    view = shown(kind)
    before = part(view).model.rows
    ready = [number for number, verdict in weighed_desk.pile.verdicts.items() if verdict.status is PieceStatus.READY]
    weighed_desk.do(set_beside, ready[:3], PieceStatus.SET_ASIDE)
    if kind is HandOverView:
        assert len(part(view).model.rows) == len(before) - 3
    weighed_desk.undo()
    assert part(view).model.rows == before


@KINDS
def test_an_empty_table_says_what_will_be_here(qtbot: QtBot, empty_desk: Desk, kind: type) -> None:
    view = kind(empty_desk)
    qtbot.addWidget(view)
    view.show()
    view.arrive()
    assert part(view).pages.currentWidget() is part(view).nothing
    assert part(view).nothing.accessibleName()
    assert part(view).model.rowCount() == 0


@pytest.mark.parametrize("column", range(len(HEADS)))
def test_money_is_aligned_right_and_text_left(shown: Callable[[type], View], column: int) -> None:
    view = shown(CostsView)
    side = part(view).model.data(part(view).model.index(0, column), ALIGN)
    assert side == (RIGHT if column in FIGURES else None)
    assert part(view).model.headerData(column, Qt.Orientation.Horizontal) == HEADS[column]


def test_with_little_room_names_go_first_and_numbers_stay(shown: Callable[[type], View]) -> None:
    view = shown(CostsView)
    view.resize(640, 600)
    hidden = {HEADS[column] for column in range(len(HEADS)) if part(view).table.isColumnHidden(column)}
    assert "Recipient" in hidden
    assert not hidden & {"Number", "Shipping paid", "Estimated postage", "Margin"}


def test_totals_include_all_pieces_even_when_only_losses_are_shown(shown: Callable[[type], View]) -> None:
    view = shown(CostsView)
    assert isinstance(view, CostsView)
    sums, every = part(view).foot.text(), part(view).model.rows
    view.pile.toggle_losing()
    assert 0 < len(part(view).model.rows) < len(every)
    assert part(view).foot.text() == sums


def test_the_filter_for_losses_stays_after_a_change(shown: Callable[[type], View], weighed_desk: Desk) -> None:
    view = shown(CostsView)
    assert isinstance(view, CostsView)
    view.pile.toggle_losing()
    weighed_desk.do(set_beside, [next(iter(weighed_desk.pile.verdicts))], PieceStatus.SET_ASIDE)
    assert {row[-1] for row in part(view).model.rows} == {"loss"}


def test_the_groups_of_the_hand_over_add_up_to_its_total(weighed_desk: Desk) -> None:
    found = hand_over_list(weighed_desk.pile)
    pieces = [row for at, row in enumerate(found.rows) if at not in found.headings]
    assert len(pieces) + len(found.headings) == len(found.rows)
    assert found.total.startswith(f"{len(pieces)} pieces, ")
    postage = sum(Money.of(row[4].lstrip("$")).minor for row in pieces if row[4])
    assert Money(postage).text() in found.total
    assert all(len(row) == len(HAND_OVER_HEADS) for row in found.rows)


def test_headings_span_the_table_and_other_rows_do_not(shown: Callable[[type], View], weighed_desk: Desk) -> None:
    view = shown(HandOverView)
    found = hand_over_list(weighed_desk.pile)
    spans = {row: part(view).table.columnSpan(row, 0) for row in range(part(view).model.rowCount())}
    whole = {*found.headings, *range(len(found.rows), part(view).model.rowCount())}  # headings, and the notes below
    assert {row for row, span in spans.items() if span == len(HAND_OVER_HEADS)} == whole
    assert {span for row, span in spans.items() if row not in whole} == {1}


def test_nothing_can_be_saved_while_nothing_is_ready(shown: Callable[[type], View], weighed_desk: Desk) -> None:
    view = shown(HandOverView)
    assert isinstance(view, HandOverView)
    assert view.save.isEnabled()
    every = list(weighed_desk.pile.verdicts)
    weighed_desk.do(set_beside, every, PieceStatus.SET_ASIDE)
    assert not view.save.isEnabled()
    assert part(view).pages.currentWidget() is part(view).nothing
    weighed_desk.undo()
    assert view.save.isEnabled()


def test_five_pieces_and_their_sum_are_visible_at_200_percent_in_the_smallest_window(
    qtbot: QtBot, qapp: QApplication, weighed_desk: Desk
) -> None:
    usual, larger = qapp.font(), qapp.font()
    larger.setPointSizeF(20)
    qapp.setFont(larger)
    try:
        window = Window(["Batch", "Bench", "Customs", "Papers", "Hand-over", "Costs", "Setup"])
        qtbot.addWidget(window)
        weighed_desk.state("demo", OngoingState("Demo shop. Nothing you do here is saved."))
        window.seat(weighed_desk, [(TITLE, SHORTCUT, CostsView(weighed_desk))])
        window.resize(1024, 640)
        window.show()
        qapp.processEvents()
        page = window.screen_of(TITLE).pile
        assert page.table.viewport().height() >= 5 * page.table.rowHeight(0)
        assert "margin" in page.foot.text()
        assert "materials" in page.foot.toolTip()
        assert page.foot.fontMetrics().horizontalAdvance(page.foot.text()) <= page.foot.width()
        window.resize(1024, 1400)
        qapp.processEvents()
        assert "materials" in page.foot.text()
    finally:
        qapp.setFont(usual)
