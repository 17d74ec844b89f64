from __future__ import annotations

import pytest
from PySide6.QtCore import Qt
from pytestqt.qtbot import QtBot

from desk.store.tables.hand_overs import hand_over
from desk.ui.bridge import Desk, Event
from desk.ui.setup.data.addresses import AddressesCard


@pytest.fixture
def page(qtbot: QtBot, desk: Desk) -> AddressesCard:
    with desk.sitting.store.act("Hand over") as tx:
        hand_over(tx, [1, 2])
    desk.sitting.announce(desk.sitting.store.last_changes)
    made = AddressesCard(desk)
    qtbot.addWidget(made)
    made.show()
    return made


def type_days(qtbot: QtBot, page: AddressesCard, days: str) -> None:
    editor = page.form.fields["days"].editor()
    page.form.fields["days"].put("")
    qtbot.keyClicks(editor, days)
    qtbot.keyClick(editor, Qt.Key.Key_Return)


def test_pieces_mailed_today_are_not_old_enough(page: AddressesCard) -> None:
    assert page.found.text() == "0 orders that old still have an address."
    assert not page.forget.isEnabled()


def test_the_number_of_days_is_typed_and_one_click_deletes_the_addresses(
    qtbot: QtBot, page: AddressesCard, desk: Desk
) -> None:
    events: list[Event] = []
    desk.happened.connect(events.append)
    type_days(qtbot, page, "0")
    assert page.forget.text() == page.forget.accessibleName() == "Delete 2 addresses now"
    page.forget.setFocus()
    qtbot.keyClick(page.forget, Qt.Key.Key_Space)
    assert [desk.pile.verdicts[piece].case.order.address.address1 for piece in (1, 2)] == ["", ""]
    assert desk.pile.verdicts[3].case.order.address.address1
    assert [event.words for event in events] == ["Time to keep addresses saved", "Deleted 2 addresses."]
    assert not page.forget.isEnabled()


@pytest.mark.parametrize("days", ["soon", "-1", "12345", "1.5"])
def test_an_invalid_number_of_days_is_reported_at_the_field(qtbot: QtBot, page: AddressesCard, days: str) -> None:
    type_days(qtbot, page, days)
    assert "whole number" in page.form.fields["days"].editor().accessibleDescription()
    assert not page.forget.isEnabled()
    type_days(qtbot, page, "90")
    assert page.form.fields["days"].editor().accessibleDescription() == ""


def test_the_card_counts_again_when_it_is_shown(qtbot: QtBot, page: AddressesCard, desk: Desk) -> None:
    type_days(qtbot, page, "0")
    page.hide()
    with desk.sitting.store.act("Hand over") as tx:
        hand_over(tx, [3])
    page.show()
    assert page.forget.text() == "Delete 3 addresses now"
