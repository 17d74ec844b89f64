"""The extras on the page of a piece: offered with their price, chosen by a key or a press, undone like any step."""

from __future__ import annotations

import pytest
from PySide6.QtCore import Qt
from pytestqt.qtbot import QtBot

from desk.session.bench.extra_choice import insurance_words
from desk.session.money.losses import LossRate
from desk.ui.actions import add_acts
from desk.ui.bridge import Desk
from desk.ui.trade.extras_card import EXTRA_KEYS
from desk.ui.trade.piece_sheet import PieceSheet

CERTIFICATE = "certificate-of-mailing"


@pytest.fixture
def sheet(qtbot: QtBot, weighed_desk: Desk) -> PieceSheet:
    made = PieceSheet(weighed_desk)
    qtbot.addWidget(made)
    add_acts(made, made.acts_in_front())  # as its screen does
    made.show()
    made.activateWindow()
    with qtbot.waitActive(made):
        pass
    piece = weighed_desk.pile.find("1043")
    assert piece is not None
    made.show_piece(piece)
    return made


def offered(sheet: PieceSheet) -> list[str]:
    return [button.text() for button in sheet.extras.buttons.values() if not button.isHidden()]


def test_each_extra_is_shown_with_its_price(sheet: PieceSheet) -> None:
    assert offered(sheet) == [
        "Certificate of mailing, $2.45",
        "Certificate on a firm sheet (3 pieces or more), $0.75",
        "Insurance, $2.80",
    ]


def test_the_key_of_an_extra_adds_and_removes_it(qtbot: QtBot, sheet: PieceSheet, weighed_desk: Desk) -> None:
    button = sheet.extras.buttons[CERTIFICATE]
    qtbot.keyClick(sheet, Qt.Key.Key_C, Qt.KeyboardModifier.ControlModifier | Qt.KeyboardModifier.ShiftModifier)
    assert weighed_desk.steps()[0] == "Added certificate of mailing: 1043"
    sheet.refresh()
    assert button.isChecked()
    qtbot.keyClick(sheet, Qt.Key.Key_C, Qt.KeyboardModifier.ControlModifier | Qt.KeyboardModifier.ShiftModifier)
    sheet.refresh()
    assert not button.isChecked()


def test_a_click_adds_an_extra_and_undo_removes_it(qtbot: QtBot, sheet: PieceSheet, weighed_desk: Desk) -> None:
    qtbot.mouseClick(sheet.extras.buttons[CERTIFICATE], Qt.MouseButton.LeftButton)
    assert sheet.piece is not None
    assert weighed_desk.pile.verdicts[sheet.piece].case.extras == (CERTIFICATE,)
    weighed_desk.undo()
    assert weighed_desk.pile.verdicts[sheet.piece].case.extras == ()


def test_a_key_of_an_extra_that_is_not_offered_does_nothing(
    qtbot: QtBot, sheet: PieceSheet, weighed_desk: Desk
) -> None:
    before = weighed_desk.steps()
    qtbot.keyClick(sheet, Qt.Key.Key_G, Qt.KeyboardModifier.ControlModifier | Qt.KeyboardModifier.ShiftModifier)
    assert weighed_desk.steps() == before


def test_every_extra_has_a_key_of_its_own_on_the_page(sheet: PieceSheet) -> None:
    listed = [key for act in sheet.acts() if act.do for key in act.keys.split()]
    assert {key: listed.count(key) for key in EXTRA_KEYS} == dict.fromkeys(EXTRA_KEYS, 1)


def test_a_parcel_says_whether_insurance_pays_off(sheet: PieceSheet, weighed_desk: Desk) -> None:
    assert sheet.piece is not None
    verdict = weighed_desk.pile.verdicts[sheet.piece]
    words = insurance_words(verdict, weighed_desk.pile.terms, LossRate(0, 0))
    assert sheet.extras.words.text() == words
    assert "Insurance" in words


def test_without_a_weight_the_card_says_why_there_are_no_extras(qtbot: QtBot, desk: Desk) -> None:
    sheet = PieceSheet(desk)
    qtbot.addWidget(sheet)
    sheet.show_piece(next(iter(desk.pile.verdicts)))
    assert sheet.extras.words.text() == "Weigh it to see its extras."
    assert offered(sheet) == []
