"""Mailed pieces are hidden in the batch, and its tables can be saved."""

from __future__ import annotations

from pathlib import Path

from PySide6.QtCore import Qt
from pytestqt.qtbot import QtBot

from desk.domain.status import PieceStatus
from desk.session.pile.bulk_changes import set_beside
from desk.store.tables.hand_overs import hand_over
from desk.ui.batch.pieces.paint import PieceCells
from desk.ui.batch.pieces.rows import MAILER, NUMBER, POSTAGE, VERDICT
from desk.ui.bridge import Desk
from tests.ui.batch.test_view import messages, numbers, show


def test_handed_over_pieces_are_hidden_and_found_by_status_or_text(qtbot: QtBot, desk: Desk) -> None:
    view = show(qtbot, desk)
    piece = desk.pile.find("1043")
    assert piece is not None
    with desk.sitting.store.act("Hand over") as tx:
        hand_over(tx, [piece])
    desk.sitting.announce(desk.sitting.store.last_changes)
    assert "1043" not in numbers(view)
    assert view.list.bar._words[None].text() == f"In progress {len(desk.pile.verdicts) - 1}"
    view.list.bar.want_statuses(PieceStatus.HANDED_OVER)
    assert numbers(view) == ["1043"]
    view.back()
    view.list.bar.search.setText("1043")
    assert numbers(view) == ["1043"]


def test_tables_are_saved_from_the_window(qtbot: QtBot, desk: Desk, tmp_path: Path) -> None:
    view, events = show(qtbot, desk), messages(desk)
    view.save_tables(tmp_path)
    assert (tmp_path / "postage-list.csv").exists()
    assert f"tables of {len(desk.pile.verdicts)} pieces in {tmp_path}." in events[-1].words
    assert "earlier" not in events[-1].words
    desk.pile.unread = 3
    view.save_tables(tmp_path)
    assert events[-1].words.endswith("3 that left earlier are not included.")
    view.save_tables(tmp_path / "gone")
    assert events[-1].mark == "stop"


def test_mailed_packages_are_one_key_away_and_those_set_aside_come_last(qtbot: QtBot, desk: Desk) -> None:
    view = show(qtbot, desk)
    first, second = [row.piece_id for row in view.list.model.shown[:2]]
    desk.do(set_beside, [first], PieceStatus.SET_ASIDE)
    assert view.list.model.shown[0].piece_id == second
    assert view.list.model.shown[-1].piece_id == first
    view.list.table.sortByColumn(NUMBER, Qt.SortOrder.DescendingOrder)
    assert view.list.model.shown[-1].piece_id == first
    qtbot.keyClick(view.list.table, Qt.Key.Key_L, Qt.KeyboardModifier.ControlModifier)
    assert view.list.bar.wanted.status is PieceStatus.HANDED_OVER
    qtbot.keyClick(view.focusWidget() or view, Qt.Key.Key_L, Qt.KeyboardModifier.ControlModifier)
    assert view.list.bar.wanted.status is None


def test_the_date_beside_a_postage_is_explained_for_the_selected_piece(qtbot: QtBot, weighed_desk: Desk) -> None:
    view = show(qtbot, weighed_desk)
    rows = view.list.model.shown
    old = next(at for at, row in enumerate(rows) if row.age.short)
    fresh = next(at for at, row in enumerate(rows) if not row.age.short)
    view.list.table.choose_rows([old])
    meaning = "postage from the price list of July 12, 2026, valid through October 3, 2026"
    assert view.list.many._count.text() == f"{rows[old].cells[NUMBER]} – {meaning}"
    view.list.table.choose_rows([fresh])
    assert view.list.many._count.text() == "1 piece selected"


def test_columns_a_narrow_table_leaves_out_are_shown_below_the_result_and_the_table(
    qtbot: QtBot, weighed_desk: Desk
) -> None:
    view = show(qtbot, weighed_desk, (620, 640))
    table, row = view.list.table, view.list.model.shown[0]
    view.list.table.choose_rows([0])
    assert table.isColumnHidden(POSTAGE)
    assert not table.isColumnHidden(VERDICT)
    cells = table.itemDelegate()
    assert isinstance(cells, PieceCells)
    below = cells._left_out(view.list.model.index(0, VERDICT)).split(" · ")
    assert row.cells[POSTAGE] in below
    whole = view.list.many._count.text()
    assert whole.startswith(f"{row.cells[NUMBER]} – ")
    assert row.cells[MAILER] in whole
    view.resize(1900, 640)
    assert cells._left_out(view.list.model.index(0, VERDICT)) == ""
    assert view.list.many._count.text() == "1 piece selected"
