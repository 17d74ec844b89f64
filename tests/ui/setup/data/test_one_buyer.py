"""One buyer's data, exported or forgotten from the data page."""

from __future__ import annotations

import json
from pathlib import Path

import pytest
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QFileDialog
from pytestqt.qtbot import QtBot

from desk.store.tables.hand_overs import hand_over
from desk.ui.bridge import Desk
from desk.ui.setup.data.one_buyer import OneBuyerCard


@pytest.fixture
def card(qtbot: QtBot, desk: Desk) -> OneBuyerCard:
    made = OneBuyerCard(desk)
    qtbot.addWidget(made)
    made.show()
    return made


def type_buyer(qtbot: QtBot, card: OneBuyerCard, typed: str) -> None:
    field = card.form.fields["buyer"]
    field.put("")
    qtbot.keyClicks(field.editor(), typed)
    qtbot.keyClick(field.editor(), Qt.Key.Key_Return)


def test_the_data_of_a_buyer_is_exported_and_deleted_once_mailed(
    qtbot: QtBot, card: OneBuyerCard, desk: Desk, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    order = desk.pile.verdicts[1].case.order
    type_buyer(qtbot, card, order.number)
    assert (card.export.isEnabled(), card.forget.isEnabled()) == (True, False)
    assert f"Still to be mailed: {order.number}" in card.found.text()
    file = tmp_path / "buyer.json"
    monkeypatch.setattr(QFileDialog, "getSaveFileName", lambda *_: (str(file), ""))
    card.export.click()
    assert json.loads(file.read_text())["orders"][0]["order"]["address"]["recipient"] == order.address.recipient
    with desk.sitting.store.act("Hand over") as tx:
        hand_over(tx, [n for n, one in desk.pile.verdicts.items() if one.case.key.order == order.number])
    card.refresh()
    card.forget.click()
    desk.read_all()
    assert desk.pile.verdicts[1].case.order.address.recipient == ""


def test_an_unknown_name_offers_nothing(qtbot: QtBot, card: OneBuyerCard) -> None:
    type_buyer(qtbot, card, "nobody at all")
    assert (card.export.isEnabled(), card.forget.isEnabled(), card.found.text()[:8]) == (False, False, "0 orders")
