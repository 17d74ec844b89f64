"""The page of fees: one service at a time, with the shop's own loss rate."""

from __future__ import annotations

from pytestqt.qtbot import QtBot

from desk.ui.bridge import Desk
from desk.ui.costs.view import FEES, CostsView
from tests.ui.screens import show_screen


def test_the_fees_of_the_chosen_service_stay_chosen(qtbot: QtBot, desk: Desk) -> None:
    view = show_screen(qtbot, CostsView(desk))
    view.open_page(FEES)
    page = view.fees
    assert page.service.currentData() == "ground-commercial"
    assert ("insurance", "$200.00", "$4.50", "4.5% lost", "can't tell yet", "") in page.model.rows
    assert page.lost.text().startswith("None of your packages was mailed 15 or more days ago")
    page.service.setCurrentIndex(page.service.findData("letter-stamped"))
    assert ("insurance", "$50.00", "$2.80", "5.6% lost", "can't tell yet", "") in page.model.rows
    page.refresh()
    assert page.service.currentData() == "letter-stamped"


def test_every_service_can_be_chosen_under_a_name_of_its_own(qtbot: QtBot, desk: Desk) -> None:
    view = show_screen(qtbot, CostsView(desk))
    view.open_page(FEES)
    box = view.fees.service
    assert {box.itemData(row) for row in range(box.count())} == set(desk.sitting.rulebook.charts.services())
    assert len({box.itemText(row) for row in range(box.count())}) == box.count()
    for price, words in (("retail", "retail"), ("commercial", "online")):
        row = box.findData(f"priority-flat-small-box-{price}")
        assert box.itemText(row) == f"priority flat-rate small box ({words})"
