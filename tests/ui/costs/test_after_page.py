"""The page of what happens after mailing: marks, sending again, claims, refunds and messages to buyers."""

from __future__ import annotations

import csv
from pathlib import Path

import pytest
from PySide6.QtGui import QGuiApplication
from pytestqt.qtbot import QtBot

from desk.domain.status import PieceStatus
from desk.session.papers.hand_over import hand_pieces_over, stamp_all
from desk.ui.bridge import Desk
from desk.ui.costs.after_page import AfterPage
from desk.ui.costs.view import AFTER, CostsView
from tests.ui.screens import show_screen


@pytest.fixture
def page(qtbot: QtBot, weighed_desk: Desk) -> AfterPage:
    weighed_desk.do(stamp_all, weighed_desk.pile)
    gone = [
        n for n, one in weighed_desk.pile.verdicts.items() if one.status in (PieceStatus.READY, PieceStatus.LABELED)
    ]
    weighed_desk.do(hand_pieces_over, weighed_desk.pile, gone)
    view = show_screen(qtbot, CostsView(weighed_desk))
    view.open_page(AFTER)
    view.after.table.selectRow(0)
    return view.after


def test_a_lost_package_is_shown_with_its_reason_and_can_be_marked_as_arrived(page: AfterPage) -> None:
    page.reason.setText("never scanned")
    page.mark(PieceStatus.LOST)
    assert page.model.rows[0][3] == "lost: never scanned"
    assert page.table.hasFocus()  # so that Z undoes it
    page.mark(None)
    assert page.model.rows[0][3] == "handed over"


def test_sending_again_names_the_new_number(qtbot: QtBot, page: AfterPage) -> None:
    number = page.desk.pile.verdicts[page.mailed[0].piece_id].case.number
    with qtbot.waitSignal(page.desk.happened) as reported:
        page.send_again()
    assert reported.args[0].words == f"To be sent again as {number}R. Weigh it like any other package."
    assert page.desk.pile.find(f"{number}R") is not None


def test_an_amount_that_cannot_be_read_says_so_and_a_good_one_is_shown(qtbot: QtBot, page: AfterPage) -> None:
    page.amount.setText("a lot")
    with qtbot.waitSignal(page.desk.happened) as reported:
        page.enter_claim()
    assert reported.args[0].words == "Can't read \u201ca lot\u201d as an amount."
    page.amount.setText("$12.50")
    page.enter_claim()
    assert page.model.rows[0][6] == "$12.50 paid"


def test_the_message_is_copied_and_saved_for_each_order(page: AfterPage, tmp_path: Path) -> None:
    page.template.setText("{name}: {order}, {tracking}")
    page.save_template()
    page.copy_message()
    first = page.mailed[0]
    copied = QGuiApplication.clipboard().text()
    assert copied.startswith(f"{first.recipient}: ")
    page.table.clearSelection()
    page.save(tmp_path / "messages.csv")
    with (tmp_path / "messages.csv").open(encoding="utf-8") as file:
        rows = list(csv.DictReader(file))
    assert len(rows) == len(page.mailed)
    assert rows[0]["message"] == copied
    assert "no tracking, mailed on " in copied


def test_nothing_selected_says_what_to_do(qtbot: QtBot, page: AfterPage) -> None:
    page.table.clearSelection()
    with qtbot.waitSignal(page.desk.happened) as reported:
        page.mark(PieceStatus.CAME_BACK)
    assert reported.args[0].words == "Select packages in the list first."


def test_the_weight_record_is_saved_as_a_pdf(page: AfterPage, tmp_path: Path) -> None:
    page.save_record(tmp_path / "record.pdf")
    assert (tmp_path / "record.pdf").read_bytes().startswith(b"%PDF")
